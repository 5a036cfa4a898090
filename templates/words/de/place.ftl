# Woher bekannt ist, wo, wann und in welcher Haltung ein Foto entstand, und wie die Ufer heißen. Wendungen ohne Punkt,
# hinter einem Doppelpunkt: „Zeit: GPS-Zeit“.

## Namen am Ufer

place-main-shore = Hauptufer
place-shore = Ufer { $number }
place-island = Insel { $letter }
place-whole-shore = ganzes Ufer
place-bank = { $point }ufer
place-island-bank = { $point }ufer
place-sheet = Blatt { $number }

## Wann

place-time-gps = GPS-Zeit
place-time-gps-but =
    { $side ->
        [ahead] GPS-Zeit; die { $clock }, geht dagegen { $span } vor
       *[behind] GPS-Zeit; die { $clock }, geht dagegen { $span } nach
    }
place-time-none = keine brauchbare Zeit in der Datei
place-clock =
    { $read ->
        [own] Kamerauhr mit ihrem eigenen Zeitversatz, { $zone }
        [set] Kamerauhr in der für sie angegebenen Zeitzone, { $zone }
       *[survey] Kamerauhr, angenommen in der Zeitzone der Vermessung, { $zone }
    }
place-clock-less = { $clock }, abzüglich { $seconds } s, die sie vorgeht
place-days = { $count } Tage

## Wo

place-by-crew = corrections.csv
place-by-crew-moved = corrections.csv, { $metres } m von der Angabe der Datei entfernt
place-by-track = aus der GPS-Spur um { $time }, zwischen Punkten im Abstand von { $seconds } s
place-by-track-fix = aus der GPS-Spur um { $time }, an einem ihrer Punkte
place-by-photo = die Position im Foto selbst ({ $tag })
place-by-photo-error = die Position im Foto selbst ({ $tag }), mit ihrem eigenen Fehler
place-nowhere = keine Position
place-private-rounded = auf 100 m gerundet, da die Crew die Stelle nicht preisgibt
place-private-hidden = von der Crew nicht preisgegeben; gezeigt in der Mitte des Uferabschnitts

## Richtung

place-heading-yaw = { $tag }, wie vom Hersteller geschrieben, als rechtweisend genommen
place-heading-true = Exif-Richtung, rechtweisend
place-heading-default = Exif-Richtung ohne Bezug, nach der Exif-Regel also rechtweisend
place-heading-magnetic = Exif-Richtung, missweisend, um { $turn }° gedreht ({ $model })
place-heading-course =
    { $side ->
        [bow] Kurs der GPS-Spur in diesem Augenblick ({ $course }°, { $speed } m/s), die Kamera fest mit Blick über den Bug
        [right] Kurs der GPS-Spur in diesem Augenblick ({ $course }°, { $speed } m/s), die Kamera fest { $turn }° rechts vom Bug
       *[left] Kurs der GPS-Spur in diesem Augenblick ({ $course }°, { $speed } m/s), die Kamera fest { $turn }° links vom Bug
    }

## Neigung und Bildwinkel

place-level-assumed = als waagerecht angenommen
place-tilt-from-level = { $tag }, gezählt von der Waagerechten
place-tilt-from-down = { $tag }, gezählt von senkrecht nach unten
place-view-panorama = angenommen: zusammengesetztes Panorama, lange Seite mit { $angle }° gerechnet
place-view-assumed = angenommen: { $angle }° über die lange Seite
place-view-film = { $focal } mm auf Kleinbild bezogen, über die Diagonale
place-view-film-zoom = { $focal } mm auf Kleinbild bezogen, über die Diagonale, Digitalzoom { $zoom }
place-view-sensor = Brennweite { $focal } mm, Sensor { $sensor } mm breit
place-view-sensor-zoom = Brennweite { $focal } mm, Sensor { $sensor } mm breit, Digitalzoom { $zoom }

## Höhe

place-height-fixed = die Kamera ist laut survey.toml fest in dieser Höhe über dem Wasser
place-height-altitude =
    { $datum ->
        [ellipsoid] Höhe über dem Ellipsoid abzüglich des Wasserstands an diesem Tag
       *[sea-level] Höhe über dem Meeresspiegel abzüglich des Wasserstands an diesem Tag
    }
place-height-altitude-datum =
    { $datum ->
        [ellipsoid] Höhe über dem Ellipsoid abzüglich der Bezugshöhe, da kein Wasserstand bekannt ist
       *[sea-level] Höhe über dem Meeresspiegel abzüglich der Bezugshöhe, da kein Wasserstand bekannt ist
    }
place-height-eye = angenommen: in Augenhöhe am Wasserrand gehalten
place-height-takeoff-unknown = Höhe über dem Startplatz, dieser in Höhe des Wassers angenommen
place-height-takeoff = Höhe über dem Startplatz, der { $metres } m über dem Wasser lag

## Warum nicht bekannt ist, was ein Foto zeigt

place-unseen-no-height = seine Höhe über dem Wasser ist nicht bekannt
place-unseen-under-water = seine Höhe über dem Wasser ist mit { $metres } m angegeben
place-unseen-no-tilt = es ist nicht bekannt, wie weit es nach unten sah
place-unseen-no-heading = seine Richtung ist nicht bekannt
place-unseen-leaning = seine Richtung ist nicht bekannt, und es sah zu weit an der Senkrechten vorbei, um ohne sie auszukommen

## Was das Land verdeckt

place-land-surface = Was das Land vor einer Kamera verdeckt, ist nach den Höhen aus { $files } beurteilt, die den Bewuchs zeigen, gelesen alle { $cell } m; sie decken { $share } % der Uferlinie ab.
place-land-ground = Was das Land vor einer Kamera verdeckt, ist nach den Höhen aus { $files } beurteilt, mit { $growth } m Bewuchs auf dem Boden, gelesen alle { $cell } m; sie decken { $share } % der Uferlinie ab.
place-land-elsewhere = Anderswo ist angenommen, dass das Land auf { $over } m von der Uferlinie um { $bank } m ansteigt und weiter um { $slope } m auf 100 m, bis { $highest } m.
place-land-unused = Die gelieferten Höhen waren nicht verwendbar; was das Land vor einer Kamera verdeckt, ist daher nach einer Annahme beurteilt: Das Land steigt auf { $over } m von der Uferlinie um { $bank } m an und weiter um { $slope } m auf 100 m, bis { $highest } m.
place-land-none = Es liegen keine Geländehöhen vor; was das Land vor einer Kamera verdeckt, ist daher nach einer Annahme beurteilt: Das Land steigt auf { $over } m von der Uferlinie um { $bank } m an und weiter um { $slope } m auf 100 m, bis { $highest } m.
