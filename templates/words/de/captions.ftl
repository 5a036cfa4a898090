# Die Zeile unter einem Foto, der Text für alle, die es nicht sehen können, und woher jede Angabe stammt.

captions-line = { $where }, { $what }.
captions-reach = Uferabschnitt { $reach }
captions-kind = { $kind ->
    [aerial] Luftfoto.
   *[shore] Uferfoto.
 }

captions-from = { $where ->
    [water] Vom Wasser aus
   *[bank] Vom Ufer aus
 }
captions-taken-from = { $where ->
    [water] Vermutlich vom Wasser aus, in Augenhöhe
   *[bank] Vermutlich vom Ufer aus, in Augenhöhe
 }
captions-from-private = Von einer Stelle, die die Crew nicht preisgibt
captions-from-air = Aus der Luft, Höhe nicht bekannt
captions-from-height = Aus { $height } Höhe
captions-from-about = Aus etwa { $height } Höhe

captions-looking = Blick nach { $way }en
captions-looking-down = { $how ->
    [straight] Blick senkrecht nach unten
   *[steeply] Blick steil nach unten
 }
captions-direction-not-known = Blickrichtung nicht bekannt
captions-direction-not-told = Blickrichtung nicht angegeben
captions-no-bank = soweit bekannt ohne Ufer im Bild

captions-at = auf { $reach }, { $distance } entfernt
captions-across = { $across } auf { $reach }, { $distance } entfernt
captions-at-close = auf { $reach }, ganz nah
captions-on = auf { $reach }, { $distance } entfernt
captions-on-close = auf { $reach }, ganz nah
captions-nearest = am nächsten bei { $reach }
captions-at-waters-edge = an der Wasserkante, am nächsten bei { $reach }
captions-off = { $distance } vor dem nächsten Ufer, { $reach }
captions-behind = { $distance } hinter dem nächsten Ufer, { $reach }

captions-when = { $day }, { $time } Uhr.
captions-no-date = Datum nicht bekannt.
captions-level = Wasserstand { $level }.
captions-no-level = Wasserstand nicht bekannt.

captions-turn = { $where }, { $count } Fotos, an einer Stelle im Kreis aufgenommen, { $place }.
captions-turn-way = nach { $way }en
captions-north-is-up = Norden ist oben.

captions-position = Standort: { $how }, Genauigkeit nicht bekannt
captions-position-within = Standort: { $how }, auf { $within } m genau
captions-time = Zeit: { $how }
captions-value = { $what ->
    [heading] Blickrichtung
    [pitch] Neigung
    [height] Höhe über dem Wasser
   *[hfov] Bildwinkel
 }
captions-measured = { captions-value }: { $read ->
    [assumed] angenommen{ " " }
   *[read] { "" }
 }{ $number }{ $what ->
    [heading] ° rechtweisend
    [pitch] ° gegen die Waagerechte
    [height] { " m" }
   *[hfov] °
 }, { $source }
captions-unmeasured = { captions-value }: nicht bekannt
