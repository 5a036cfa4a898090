# Was „Wo bin ich?“ sagt.

script-earth-north-south = NS
script-earth-east-west = OW
script-here-way = { $away } in Richtung { $way } ({ $degrees }° rechtweisend)
script-here-to-mark = Zu Ihrer Marke { $name }
script-here-to-photo = Zu Foto { $number } auf Seite { $page }
script-here-to-bank = Zum Ufer des Uferabschnitts { $id }
script-here-bank = Nächstes Ufer, { $id }, { $name }
script-here-tile = Blatt { $tile }.
script-here-no-tile = Auf keinem der Blätter.
script-here-depth = Tiefe auf der Karte hier: { $depth }.
script-here-within = { $position }, auf { $accuracy } genau
script-here-far = Sie sind nicht an diesem See.
script-here-following = Folgt dem Gerät.
script-here-asking = Das Gerät wird gefragt …
script-here-tapped = Die Stelle, auf die Sie getippt haben.
script-here-typed = Die Stelle, die Sie eingegeben haben.
script-here-stopped = Ihr Standort wird nicht mehr gezeigt.
script-here-pick = Tippen Sie die Stelle auf der Karte an. Mit der Tastatur: Karte verschieben, Eingabetaste für die Mitte.
script-here-none = Dieser Browser sagt keiner Seite, wo er ist. Tippen Sie auf die Karte oder geben Sie Ihre Position ein.
script-here-insecure =
    Über einfaches http sagt ein Browser keiner Seite, wo er ist. Öffnen Sie den Atlas als Datei oder über https, tippen
    Sie auf die Karte oder geben Sie Ihre Position ein.
script-here-refused =
    Der Browser hat nicht gesagt, wo Sie sind: Die Ortung ist für diese Seite oder dieses Gerät abgeschaltet. Erlauben
    Sie sie und versuchen Sie es noch einmal, tippen Sie auf die Karte oder geben Sie Ihre Position ein.
script-here-refused-file =
    Der Browser hat nicht gesagt, wo Sie sind: Die Ortung ist für dieses Gerät abgeschaltet, oder dieser Browser sagt es
    keiner Seite, die als Datei geöffnet ist. Tippen Sie auf die Karte oder geben Sie die Position ein, die Ihr Gerät
    anzeigt.
script-here-unknown = Das Gerät weiß gerade nicht, wo es ist. Tippen Sie auf die Karte oder geben Sie Ihre Position ein.
script-here-late =
    Das Gerät hat in einer halben Minute keine Position gefunden. Gehen Sie dorthin, wo es den Himmel sieht, tippen Sie
    auf die Karte oder geben Sie Ihre Position ein.
script-here-wrong =
    Das ist keine Position. Geben Sie erst die Breite, dann die Länge ein: 31,5994 S 96,4002 W oder -31,5994 -96,4002 oder
    31° 35,964' S 96° 24,012' W. Breite bis 90, Länge bis 180, Minuten bis 59.
script-compass = { $point ->
    [north] Nord
    [north-east] Nordost
    [east] Ost
    [south-east] Südost
    [south] Süd
    [south-west] Südwest
    [west] West
   *[north-west] Nordwest
 }
script-depth-told = { $depth } unter { $level }
