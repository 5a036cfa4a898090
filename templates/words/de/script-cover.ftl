# Wie gut das Wasser vermessen ist, und Bilder vom Grund: was die Skripte sagen.

script-cover-key = { $kind ->
        [twice] zweimal vom Seitensicht-Sonar gesehen,
        [fine] einmal, fein,
        [unknown] gesehen, wie fein ist nicht bekannt,
        [coarse] grob,
        [not_surveyable] aus einem Grund nicht vermessen,
        [depth_only] Tiefen, aber kein Sonarbild,
       *[none] weder noch: mit Gefahr ist zu rechnen.
    }
script-cover-under = Es liegt über den Mustern: Berühren Sie das Wasser, um zu lesen, wie gut es vermessen ist, oder wählen Sie kein Bild.
script-spot-title = Diese Stelle im Wasser
script-spot-at = Breite { $lat }°, Länge { $lon }°
script-spot-surveyed = Wie gut vermessen
script-spot-class = { $kind ->
        [twice] Zwei Fahrten mit dem Seitensicht-Sonar haben diese Stelle gesehen.
        [fine] Das Seitensicht-Sonar hat diese Stelle einmal gesehen, fein.
        [unknown] Das Seitensicht-Sonar hat diese Stelle erfasst; wie fein das Bild ist, ist nicht bekannt.
        [coarse] Das Seitensicht-Sonar hat diese Stelle nur grob gesehen: Großes ist zu erkennen, Kleines vielleicht nicht.
        [not_surveyable] Diese Stelle konnte nicht vermessen werden.
        [depth_only] { $scan ->
            [yes] Hier wurde gelotet, ein Sonarbild gibt es nicht.
           *[no] Hier wurde gelotet. Ein Seitensicht-Sonar hatte die Vermessung nicht, also gibt es kein Bild vom Grund.
        }
       *[none] { $scan ->
            [yes] Hier sind weder Tiefen noch ein Sonarbild bekannt. Rechnen Sie mit Gefahrenstellen.
           *[no] Hier sind keine Tiefen bekannt. Rechnen Sie mit Gefahrenstellen.
        }
    }
script-spot-why = Vermerkt ist: { $why }.
script-spot-near = Eine Lotung liegt im Umkreis von { $distance }.
script-spot-how-deep = Wie tief
script-spot-depth = Etwa { $depth } unter { $level }; wie genau das ist, ist nicht bekannt. Nicht zur Navigation.
script-spot-depth-bound = Etwa { $depth } unter { $level }, auf { $bound } genau. Nicht zur Navigation.
script-spot-depth-unknown = Die Tiefe ist hier nicht bekannt.
script-spot-dry = Bei diesem Wasserstand trocken.
script-spot-bank = Das nächste Ufer: Uferabschnitt { $reach }, { $name }, { $distance } entfernt
script-spot-pictures = Bilder dieser Stelle
script-spot-shows = zeigt sie

script-picture-none = Kein Bild
script-picture-absent = { $kind ->
        [air-photo] hier kein Luftbild
        [satellite-image] hier kein Satellitenbild
        [historic-chart] die alte Karte endet hier
        [sonar-mosaic] hier kein Sonarbild
       *[shaded-relief] keine Tiefen, also keine Schummerung
    }
script-picture-now = Jetzt zu sehen: { $name }.
script-picture-partly = In einem Teil dieser Ansicht: { $words }.
script-picture-nowhere = { $name } liegt anderswo.
script-picture-go = Dorthin
script-picture-lost = Einige seiner Dateien fehlen auf diesem Gerät, darum bleiben Teile leer.
script-picture-percent = { $percent } %
script-picture-unknown = „{ $id }“ in der Adresse ist kein Bild dieses Atlas. Es wird übergangen.
script-picture-no-strength = „{ $value }“ in der Adresse ist keine Stärke von 20 bis 100. Sie wird übergangen.
script-blink-to = zu { $name }
