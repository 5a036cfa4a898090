# Die Bilder vom Grund im Web-Atlas: die Karten und Fotos des Teams und die Schummerung.

pictures-shaded-relief = Schummerung
pictures-dated = { $title }, { $date }
pictures-relief-about = Der Grund, wie er trocken in der Sonne läge, aus den Tiefen berechnet: Licht von { $direction },
    { $altitude }° hoch, Höhen { $times }-fach gezeichnet, Zellen von { $cell } (Neigungen nach Horn, 1981). Mehr als die
    Lotungen zeigt sie nicht. Wo keine Tiefe bekannt ist, steht nichts.
pictures-about = { $kind ->
    [air-photo] Luftbild
    [satellite-image] Satellitenbild
    [historic-chart] Historische Karte
   *[sonar-mosaic] Sonarmosaik
 }{ $dated ->
    [yes] , { $date }
   *[no] , Datum nicht bekannt
 }{ $known ->
    [yes] ; Wasserstand damals: { $level }.
   *[no] .
 }
pictures-old-chart = Eine alte Karte: Nehmen Sie keine Tiefe aus ihr. Nicht zur Navigation.
pictures-old-chart-out-by = Eine alte Karte, auf etwa { $out } genau: Nehmen Sie keine Tiefe aus ihr. Nicht zur Navigation.

pictures-row = Bild vom Grund
pictures-choose = Bild
pictures-none = Kein Bild
pictures-blink = Wechseln
pictures-blink-with = Wechseln mit
pictures-strength = Stärke
pictures-key = Taste B wechselt
