# Was sich zwischen zwei Ausgaben geändert hat, für Kapitel, Bericht und Befehlszeile.

changes-title = Änderungen seit Ausgabe { $edition }
changes-editions = Von Ausgabe { $old } zu Ausgabe { $new }
changes-nothing = Nichts hat sich geändert: Die beiden Ausgaben sagen dasselbe.
changes-nothing-nor-files = Nichts hat sich geändert: Die beiden Ausgaben sagen dasselbe, und ihre Dateien sind gleich.
changes-nothing-said = An dem, was der Atlas sagt, hat sich nichts geändert. Einige seiner Dateien sind andere.
changes-totals = Fotos: { $photos }. Ufer neu im Bild: { $shown }, nicht mehr im Bild: { $lost }. Tiefen, die sich stärker
    geändert haben, als ihre Schranken offen lassen: { $depths }.
changes-photo-count = { $what ->
    [added] { $count } neu
    [removed] { $count } entfallen
    [replaced] { $count } ersetzt
   *[moved] { $count } versetzt
 }
changes-photos-same = dieselben
changes-how = Verglichen wurde Ufer für Ufer, nach der Lage und nicht nach der Kennung der Uferabschnitte.
changes-column-what = Was
changes-column-changed = Was sich geändert hat
changes-column-page = Seite
changes-more = Und { $count } weitere; atlasgen compare nennt sie alle.
changes-before = Vorher: { $sentence }
changes-now = Jetzt: { $sentence }
changes-not-stated = nicht angegeben
changes-not-known = nicht bekannt
changes-none = nichts
changes-unchanged = unverändert
changes-to = bis
changes-tile = Blatt { $tile }
changes-no-tile = ohne Blatt
changes-out = { $distance } vom Ufer

changes-facts = Was die Vermessung über sich sagt
changes-fact = { $fact ->
    [edition] Ausgabe
    [title] Titel
    [season] Saison
    [crew] Crew
    [language] Sprache
    [datum] Bezugshöhe
    [depths_below] Tiefen angegeben unter
    [units-depth] Einheit der Tiefen
    [units-distance] Einheit der Entfernungen
    [time_zone] Zeitzone
    [tile_scheme] Blattschnitt
    [chart-edition] Ausgabe der Karte
    [chart-date] Datum der Karte
   *[chart-datum] Bezugshöhe der Karte
 }
changes-value = { $value ->
    [feet] Fuß
    [metres] Meter
    [metric] metrisch
    [imperial] imperial
    [en] Englisch
    [de] Deutsch
   *[other] { $value }
 }
changes-parts = Bildebenen und Quellen
changes-part = { $kind ->
    [layer] Bildebene { $name }
   *[source] Quelle { $name }
 }
changes-part-state = { $state ->
    [new] neu
    [gone] entfallen
   *[changed] geändert
 }
changes-part-fact = { $fact ->
    [title] Titel
    [kind] Art
    [date] Datum
    [stage_m] Wasserstand, m
    [what] was
    [instrument] Gerät
   *[dates] Tage
 }

changes-not-compared = Nicht verglichen
changes-not-compared-lead = Ob sich der See hier geändert hat, bleibt offen.
changes-what-words = Hinweise und Bildzeilen
changes-why-words = die Ausgaben sind in zwei Sprachen geschrieben
changes-what-lines = die Linien der Uferabschnitte
changes-why-lines = eine ältere Ausgabe nennt sie nicht; genommen wurden Mittelpunkt, Länge und Richtung
changes-what-depths = Tiefen
changes-why-levels = die ältere Ausgabe zählt sie ab { $old }, die neuere ab { $new }
changes-level = { $below } (Bezugshöhe { $datum }, Wasserstand { $level } m)
changes-what-soundings = die Lotungen vor jedem Ufer
changes-what-coverage = wie gut vermessen
changes-why-widths = die ältere Ausgabe nimmt das Wasser bis { $old } vom Ufer, die neuere bis { $new }
changes-why-near = nah heißt in der älteren Ausgabe bis { $old }, in der neueren bis { $new }
changes-what-untied = die Tiefen vor { $count ->
    [one] { $count } Uferabschnitt
   *[other] { $count } Uferabschnitten
 }
changes-why-untied = eine der Ausgaben bindet sie nicht an ihre Bezugshöhe an
changes-what-unjudged = { $count ->
    [one] { $count } Tiefe, die abweicht
   *[other] { $count } Tiefen, die abweichen
 }
changes-why-unjudged = in einer der Ausgaben ist keine Schranke angegeben

changes-photos-added = Neue Fotos
changes-shows = zeigt { $reach }
changes-photos-removed = Entfallene Fotos
changes-was-on = stand auf Seite { $page }, { $reach }
changes-photos-replaced = Ersetzte Fotos
changes-in-place-of = anstelle von { $file }
changes-because = { $because ->
    [same-name] anderer Inhalt unter demselben Namen
   *[same-place-and-time] am selben Ort zur selben Zeit aufgenommen
 }
changes-photos-moved = Versetzte Fotos
changes-photos-moved-lead = Dieselben Bilder; ihr Standort oder ihre Blickrichtung ist anders angegeben.
changes-stands-off = steht um { $distance } versetzt
changes-looks-farther = { $side ->
    [right] blickt { $degrees }° weiter nach rechts
   *[left] blickt { $degrees }° weiter nach links
 }
changes-direction = { $became ->
    [known-now] die Blickrichtung ist jetzt bekannt
   *[not-known-any-more] die Blickrichtung ist nicht mehr bekannt
 }
changes-now-with = jetzt bei { $new }, vorher bei { $old }
changes-now-nearest = am nächsten bei { $new }, vorher bei { $old }
changes-photos-renamed = Fotos mit anderem Dateinamen
changes-was-file = hieß { $file }
changes-captions = Bildzeilen mit anderem Inhalt
changes-left-out = Weggelassene Fotos
changes-no-reason = kein Grund angegeben
changes-not-left-out = nicht mehr weggelassen; vorher: { $why }
changes-other-reason = aus einem anderen Grund: { $why }

changes-reaches = { $kind ->
    [shown] Ufer neu im Bild
    [lost] Ufer nicht mehr im Bild
   *[other] Ufer anders im Bild
 }
changes-reaches-lead = { $kind ->
    [shown] Vorher zeigte sie kein Foto.
   *[lost] Die ältere Ausgabe zeigt sie.
 }
changes-state = { $state ->
    [well] gut zu sehen
    [poorly] schlecht zu sehen
    [near] vielleicht zu sehen
    [none] nicht zu sehen
   *[cannot] nicht zu fotografieren
 }
changes-state-row = { $states }; vom Ufer im Bild: { $old } → { $new }
changes-state-row-same = { $states }; vom Ufer im Bild: { $length }, wie zuvor
changes-reaches-new = Neue Uferabschnitte
changes-reaches-new-lead = Kein Uferabschnitt der älteren Ausgabe ist dasselbe Ufer.
changes-reaches-retired = Entfallene Uferabschnitte
changes-reaches-retired-lead = Kein Uferabschnitt der neueren Ausgabe ist dasselbe Ufer.
changes-reaches-renumbered = Uferabschnitte mit anderer Kennung
changes-was-reach = hieß { $old }; { $share } davon sind dasselbe Ufer
changes-reaches-redrawn = Uferabschnitte mit anderem Ufer
changes-reaches-redrawn-lead = Sie haben ihre Kennung behalten; die Uferlinie wurde neu gezeichnet.
changes-middle-off = die Mitte liegt um { $distance } versetzt

changes-depth-tiles = Tiefen, nach Blättern
changes-depth-tiles-lead = Als geändert gilt eine Tiefe nur, wenn sie um mehr abweicht, als die Schranken beider Ausgaben offen lassen.
    Zu jedem Blatt steht die größte Änderung; danach folgen alle Änderungen, die größte zuerst.
changes-depth-tile = { $count } von { $compared } Tiefen geändert; im Median über alle { $median }; am stärksten bei
    { $reach }, { $which }: { $change }
changes-depths = Tiefen, Ufer für Ufer
changes-depth = { $which }: { $depths }, { $change } (die Schranken lassen { $allowed } offen)
changes-of-the-soundings = { $which ->
    [median] Median der Lotungen
   *[shallowest] flachste der Lotungen
 }
changes-deeper = { $height } tiefer
changes-shallower = { $height } flacher
changes-depths-known = Tiefen, die jetzt bekannt sind oder nicht mehr
changes-depths-known-lead = Nicht bekannt heißt nicht, dass die Tiefe null wäre.
changes-depth-known = { $depths }: war nicht bekannt, ist jetzt bekannt
changes-depth-unknown = { $depths }: war bekannt, ist jetzt nicht bekannt
changes-off-the-bank = die Lotungen vor dem Ufer
changes-coverage = Wie gut vermessen, nach Blättern
changes-coverage-lead = Der Anteil des Wassers vor jedem Ufer, der nahe bei einer Lotung liegt, wo er um ein Prozent oder mehr abweicht.
changes-coverage-tile = { $count ->
    [one] { $count } Uferabschnitt geändert
   *[other] { $count } Uferabschnitte geändert
 }; am stärksten { $reach }: { $shares }
changes-coverage-tile-median = { $count ->
    [one] { $count } Uferabschnitt geändert
   *[other] { $count } Uferabschnitte geändert
 }, Median { $median }; am stärksten { $reach }: { $shares }

changes-features-new = Neu auf dem Grund
changes-features-gone = Auf dem Grund nicht mehr gefunden
changes-features = Auf dem Grund, in anderer Tiefe
changes-features-lead = Um mehr, als die Schranken offen lassen.
changes-feature = { $depth }, bei { $at }
changes-feature-off = { $depth } vor { $reach }, bei { $at }

changes-pages = Seiten
changes-page-new = neu
changes-page-gone = entfallen; war Seite { $page }
changes-were-pages = { $count ->
    [one] war { $pages }
   *[other] waren { $pages }
 }
changes-notes = Hinweise mit anderem Inhalt
changes-notes-lead = Hier hat sich geändert, was hinter den Sätzen steht. Wo nur eine Seite oder ein Uferabschnitt anders heißt, steht nichts.
changes-program = Programm
changes-files = Dateien der Ausgabe
changes-files-lead = Nach Größe und SHA-256 in den Manifesten.
changes-inputs = Dateien der Vermessung
changes-inputs-lead = Woraus die Ausgaben gemacht wurden.
changes-file = { $what ->
    [added] neu
    [removed] entfallen
   *[altered] geändert
 }
