# Die Bilder vom Grund im Web-Atlas: die Karten und Fotos der Crew und die Schummerung.

pictures-shaded-relief = Schummerung
pictures-dated = { $title }, { $date }
pictures-relief-about = Der Grund, als wäre der See trocken, aus den Tiefen: Licht von { $direction }, { $altitude }° hoch,
    Höhen { $times }-fach gezeichnet, Zellen von { $cell } (Neigungen nach Horn, 1981). Ohne bekannte Tiefe nichts.
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
 }{ $kind ->
    [historic-chart] {" "}Ihre Höhen und Tiefen sind die von damals: Nehmen Sie keine aus ihr.
   *[other] {""}
 }
pictures-old-chart = Alte Karte. Nicht zur Navigation.
pictures-old-chart-out-by = Alte Karte, weicht etwa { $out } ab. Nicht zur Navigation.

pictures-row = Bild vom Grund
pictures-choose = Bild
pictures-none = Kein Bild
pictures-blink = Wechseln
pictures-blink-with = Wechseln mit
pictures-strength = Stärke
pictures-key = Taste B wechselt
