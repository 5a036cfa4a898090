# Das große Foto, seine Nachbarn am Ufer und andere desselben Ufers

script-photo-before = Das vorige Foto am Ufer entlang
script-photo-after = Das nächste Foto am Ufer entlang
script-photo-large = Den Bildschirm füllen
script-looks = Die Kamera sah { $degrees }° von Nord, im Uhrzeigersinn.
script-looks-unknown = Wohin die Kamera sah, ist nicht bekannt.
script-beside-lay = Ein anderes Foto dieses Ufers danebenlegen
script-beside-flip = Dasselbe Ufer am { $when }: die beiden wechseln
script-beside-apart = Diese beiden wurden nicht von einer Stelle aufgenommen: Vergleichen Sie das Ufer, nicht die Umrisse.
script-pano = Der Rundblick als Streifen, nach wahrer Richtung
script-pano-words = Ziehen Sie ihn herum: Die Karte sieht in dieselbe Richtung. Jedes Foto ist dort beschnitten, wo das nächste beginnt.
script-pano-gap = nicht fotografiert
script-pano-at = { $degrees }°, Foto { $number }
script-pano-nothing = { $degrees }°, nicht fotografiert
script-pano-point = { $point ->
        [east] O
        [south] S
        [west] W
       *[north] N
    }
