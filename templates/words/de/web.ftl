# The offline atlas: its frame

web-title = { $title }, Ausgabe { $edition }
web-skip = Zu den Seiten springen
web-views = Ansichten
web-ask-there = Was ist dort?
web-ask-deep = Wie tief?
web-ask-sure = Wie sicher?
web-map = Karte des Sees
web-closer = Näher heran
web-farther = Weiter weg
web-whole-lake = Ganzer See
web-key = Legende
web-sheet-step = Mehr oder weniger von der Seite
web-close = Schließen
web-strip = Das Ufer, gerade gezogen
web-strip-slider = Stelle am Ufer
web-strip-start = am Anfang

# The first page

web-start-title = Das Ufer, Foto für Foto
web-start-lead = { $photos ->
        [one] { $photos } Foto
       *[other] { $photos } Fotos
    } auf { $pages ->
        [one] { $pages } Seite
       *[other] { $pages } Seiten
    }: { $shore } Ufer rund um { $water } Wasser. { $share } des Ufers sind auf einem Foto zu sehen.
web-start-surveyed = Vermessen: { $season }.
web-start-surveyed-by = Vermessen: { $season }, von { $crew }.
web-start-how = Wählen Sie auf der Karte einen Punkt, ein Stück Ufer oder ein Feld. Oder ziehen Sie unten das gerade gezogene Ufer entlang: Die Seite folgt. Die Pfeiltasten nach links und rechts blättern um, Esc schließt eine Seite.
web-start-begin = Beginnen Sie auf Seite { $page }, { $title }
web-start-list = Alle Seiten als Liste
web-start-book = Das Buch (PDF)
web-start-bare = { $count ->
        [one] { $count } Uferstück
       *[other] { $count } Uferstücke
    } ohne eigene Seite
web-start-audit = Wie vollständig er ist und was fehlt
web-start-cautions = Bevor Sie hinausfahren

# Tiles and pages

web-tile = Blatt { $tile }
web-tile-link = Blatt { $tile }
web-tile-photos = { $photos ->
        [0] Keine Fotos.
        [one] { $photos } Foto auf { $pages ->
            [one] { $pages } Seite
           *[other] { $pages } Seiten
        }.
       *[other] { $photos } Fotos auf { $pages ->
            [one] { $pages } Seite
           *[other] { $pages } Seiten
        }.
    }
web-tile-shore = { $shore } Ufer, davon { $share } auf einem Foto zu sehen.
web-tile-open = Offenes Wasser.
web-photo = Foto { $number }: { $words }
web-photo-how = Woher wir wissen, wo das war
web-along = Von Seite { $page } das Ufer entlang
web-page = Seite { $page }

# Shore without a page

web-bare-title = Ufer ohne eigene Seite
web-bare-lead = { $count ->
        [0] Jedes Uferstück steht auf einer Seite.
        [one] { $count } Uferstück steht auf keiner Seite.
       *[other] { $count } Uferstücke stehen auf keiner Seite; sie folgen hier in der Reihenfolge des Ufers.
    }
web-bare-near = Nächste Seiten
web-bare-page = Seite { $page }, { $title }
web-bare-back = { $distance } zurück am Ufer
web-bare-on = { $distance } weiter am Ufer
web-bare-across = { $distance } entfernt, über das Wasser
web-bare-subtitle = Uferabschnitt { $reach }, { $distance } am Ufer entlang ab { $start }
web-bare-subtitle-start = Uferabschnitt { $reach }, an { $start }
web-bare-island-start = dem Startpunkt von { $island }
web-bare-island = der Insel
web-bare-photographs = Fotos
web-bare-no-photograph = Von diesem Uferstück gibt es im Atlas kein Foto.
web-bare-depth = Tiefe
web-bare-coverage = Wie gut vermessen
web-bare-unsounded = Das Wasser vor diesem Ufer hat niemand gelotet: Seine Tiefe ist nicht bekannt.
web-bare-soundings = { $count ->
        [one] Im Umkreis von { $distance } um dieses Ufer gibt es { $count } Lotung.
       *[other] Im Umkreis von { $distance } um dieses Ufer gibt es { $count } Lotungen.
    }
web-bare-range = Die flachste liegt bei { $shallow }, die tiefste bei { $deep } unter { $level }.
web-bare-day-level = dem Wasserspiegel jenes Tages
web-bare-not-reduced = Diese Tiefen sind nicht um den Wasserstand des Tages berichtigt.
web-bare-closeness-unknown = Wie dicht dieses Wasser gelotet wurde, ist nicht bekannt.
web-bare-closeness = { $share } dieses Wassers liegen höchstens { $distance } von einer Lotung entfernt.
web-bare-reasons = Nicht vermessen: { $reasons }.
web-view-unknown = das wurde nicht ermittelt
web-no-shore = kein Ufer

# About this atlas

web-about = Über diesen Atlas
web-about-read = Wie dieser Atlas zu lesen ist
web-about-lake = Der See
web-about-sources = Wie die einzelnen Teile vermessen wurden
web-about-methods = Wie die Werte ermittelt wurden
web-about-complete = Wie vollständig er ist
web-about-shown = { $share } von { $shore } Ufer sind auf einem Foto zu sehen.
web-about-states = Wie gut die einzelnen Ufer fotografiert sind
web-about-states-lead = Jeder Meter Ufer, in Farbe und Muster danach, was die Fotos davon zeigen. Neben den längsten Stücken ohne Foto steht ihre Länge.
web-about-states-map = Karte des Ufers: wie gut es fotografiert ist
web-about-strip = Das Ufer, gerade gezogen, Teil { $number }
web-about-tiles = Fotos und Ufer nach Blättern
web-about-column-tile = Blatt
web-about-column-photographs = Fotos
web-about-column-shore = Ufer
web-about-column-shown = Gezeigt
web-about-column-share = Anteil
web-about-problems = Was unterwegs auffiel
web-about-files = Die anderen Dateien dieses Atlas
web-about-left-out = Weggelassene Fotos
web-about-none-left-out = Keine: Jedes Bild aus dem Ordner der Vermessung steht im Atlas.
web-about-drawing = { $title }, Zeichnung
web-about-colophon = Tiefen unter { $level }. Blätter: { $scheme }. Nicht zur Navigation.
web-about-library = Die Karte zeichnet Leaflet 1.9.4 (BSD-Lizenz, in seiner Datei).
web-about-letters = Die Schrift ist Source Sans Pro
web-file-book = Das Buch, zum Drucken oder zum Blättern (PDF)
web-file-volume = Das Buch, Band { $number } von { $count } (PDF)
web-file-reaches = Alle Uferabschnitte und ihre Fotos (Tabelle, CSV)
web-file-reshoot = Wo als Nächstes zu fotografieren ist (Wegpunkte, GPX)
web-file-geopackage = Standorte, Uferabschnitte und Tiefenlinien für ein GIS (GeoPackage)
web-file-facts = Alle Angaben dieses Atlas, maschinenlesbar (JSON)

# The key: each clause follows its sign

web-key-photo = zeigt, wo eine Kamera stand; der Strich daran, wohin sie blickte.
web-key-well = ist gut fotografiertes Ufer,
web-key-poorly = schlecht fotografiertes.
web-key-near = ist Ufer, an dem ein Foto aufgenommen wurde,
web-key-none = ist Ufer noch ohne Foto.
web-key-choose = Wählen Sie einen Punkt, ein Ufer oder ein Feld
web-key-view = ist, was ein Foto abdeckt,
web-key-seen = das Ufer, das es zeigt
web-key-ramp = Hell ist flach, dunkel ist tief; das Dunkelste ist tiefer als
web-key-major = sind Tiefenlinien, in { $unit ->
        [feet] Fuß
       *[metres] Metern
    } unter
web-key-blank = ist Wasser unbekannter Tiefe.
web-key-dry = liegt bei diesem Wasserstand trocken.
web-key-lit = ist Wasser der gewählten Tiefe:
web-key-no-depths = Zu dieser Vermessung gibt es keine Tiefen.
web-key-levels = Wasserstände ändern sich: erst schauen, dann fahren.
web-key-boat = zeigt, wo das Boot gelotet hat,
web-key-near-share = Entlang dem Ufer der Anteil des Wassers, der im Umkreis von { $distance } gelotet wurde:
web-key-full = über 90 %,
web-key-part = mindestens die Hälfte,
web-key-little = weniger.

# The level of the lake

web-level-set = Wie der See heute steht
web-level-lower = See tiefer
web-level-higher = See höher
web-level-height = Der See steht, in { $unit ->
        [feet] Fuß
       *[metres] Metern
    }
web-level-side = Unter oder über Stauziel
web-level-below = unter Stauziel
web-level-above = über Stauziel
web-level-full = Voll
web-lit-set = Nur eine Tiefe
web-lit-shallower = Flacher
web-lit-deeper = Tiefer
web-lit-from = Von, in { $unit ->
        [feet] Fuß
       *[metres] Metern
    }
web-lit-to = Bis, in { $unit ->
        [feet] Fuß
       *[metres] Metern
    }
web-lit-between = bis
web-lit-all = Alle
web-level-door = Der See heute
web-lit-door = Nur eine Tiefe
web-level-no-model = Zu dieser Vermessung gibt es kein Tiefenmodell; deshalb lässt sich kein anderer Wasserstand zeigen.
web-level-no-record = Die Tiefen zählen vom Wasserspiegel des Vermessungstages, und nirgends steht, wie hoch er lag. Deshalb lassen sie sich nicht auf den heutigen Wasserstand umrechnen.
web-level-too-large = Das Tiefenmodell hat { $cells } Zellen: zu viele für eine Seite. Deshalb lässt sich hier kein anderer Wasserstand zeigen.

# Das Foto auf dem ganzen Bildschirm und zwei von einem Ufer

web-viewer = Das Foto, groß
web-viewer-before = Das vorige Foto am Ufer entlang
web-viewer-after = Das nächste Foto am Ufer entlang
web-viewer-map = Auf der Karte
web-beside = Zwei Fotos dieses Ufers
web-beside-flip = An einer Stelle
web-beside-other = Das andere zeigen
web-beside-choose = Das zweite wählen
