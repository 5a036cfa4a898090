# The book: what its templates print. `words.json` beside them says which message goes where; facts go in while the
# pages are laid out, so no message here chooses by a fact.

book-cover-kind = Uferatlas
book-cover-edition = Ausgabe { $edition }
book-cover-season = Saison
book-cover-crew = Vermessen von
book-cover-datum = Tiefen unter
book-cover-photographed = Fotografiert
book-cover-holds = Enthält
book-cover-holds-text = { $photos } auf { $pages }, { $shore } Ufer

book-volume-name = Band { $number } von { $count }
book-volume-holds = Seiten { $from } bis { $to }, Blätter { $tiles }
book-volume-within = Band { $number } von { $count }
book-volume-elsewhere = Band { $number }
book-volume-last = im letzten Band

book-count-photo-1 = Foto
book-count-photo-2 = Fotos
book-count-page-1 = Seite
book-count-page-2 = Seiten
book-count-file-1 = Datei
book-count-file-2 = Dateien
book-count-stretch-1 = Uferstück
book-count-stretch-2 = Uferstücke

book-how-title = Wie dieses Buch zu lesen ist
book-how-page = Eine Seite auf einen Blick
book-how-page-alt = Skizze einer Seite: oben quer ein großes Foto, darunter links eine Karte und ein Tiefenprofil, rechts die Anmerkungen. Die Zahlen 1 bis 6 bezeichnen die Teile, die daneben erklärt sind.
book-how-page-alt-handheld = Skizze zweier Seiten: auf der ersten ein Foto über einer Karte, auf der zweiten ein Tiefenprofil über den Anmerkungen. Die Zahlen 1 bis 6 bezeichnen die Teile, die darunter erklärt sind.
book-how-parts-1 = Der Name des Ufers, dann sein Abschnitt. Am Außenrand steht das Blatt der Karte; es führt zur Kartenübersicht.
book-how-parts-2 = Das Foto, ganz: nie beschnitten und nie verzerrt. Hat eine Datei zu wenige Bildpunkte, ist es kleiner gedruckt.
book-how-parts-3 = Seine Nummer in Zinnoberrot, dazu eine Zeile: von wo, wohin, aus welcher Entfernung, wann und bei welchem Wasserstand.
book-how-parts-4 = Die Karte: wo jede Kamera stand, mit ihrer Nummer, und das Uferstück, um das es auf der Seite geht.
book-how-parts-5 = Die Tiefe vor dem Ufer, vom Wasserrand nach außen, wo die Lotungen sie hergeben.
book-how-parts-6 = Die Anmerkungen, in der Reihenfolge, in der Sie fragen würden. Fett steht, was Sie sich merken sollten.
book-how-signs = Zeichen auf den Karten
book-how-words = Was die Wörter bedeuten

book-legend-shore = Uferlinie bei { $datum }, darüber Land
book-legend-reach = Das Uferstück, um das es auf der Seite geht
book-legend-camera = Eine Kamera mit der Nummer ihres Fotos; der Zeiger zeigt, wohin sie blickte, die Tönung das Wasser in ihrem Bild
book-legend-seen = Ufer, das ein Foto zeigt, mit dessen Nummer
book-legend-camera-unknown = Eine Kamera, deren Blickrichtung nicht bekannt ist
book-legend-isobath = Tiefenlinien in { $depth_unit } unter { $depths_below }, eine feine und eine kräftigere
book-legend-depth = Tiefentönung: hell, wo es flach ist, dunkler, wo es tiefer ist
book-legend-not-surveyed = Nicht vermessen; der Grund steht dabei

book-cautions-title = Zu Ihrer Sicherheit

book-sources-title = Wie die einzelnen Teile vermessen wurden
book-sources-lead = Die Quellenübersicht zeigt, worauf die Tiefen beruhen. Wo sie leer ist, wurde nichts gemessen.
book-sources-methods = Wie die Werte ermittelt wurden
book-sources-no-methods = Zu dieser Ausgabe gibt es keine Angaben über die Verfahren.

book-index-title = Kartenübersicht
book-index-tile = Blatt
book-index-tile-title = Blatt
book-index-map = Karte
book-index-on-tile = Seiten zu diesen Ufern
book-index-surveyed = Wie sein Wasser vermessen wurde
book-index-tiles-title = Die Blätter und ihre Seiten
book-index-tiles-lead = Jedes Blatt führt zu seiner Karte, jede Zahl zu ihrer Seite. Karten haben kleine römische Zahlen.
book-index-no-pages = keine Fotos
book-index-pages = Seiten
book-index-page = Seite

book-joins-north = nördlich
book-joins-east = östlich
book-joins-south = südlich
book-joins-west = westlich

book-own-notes-title = Eigene Notizen
book-own-notes-lead = Für das, was Sie an dem Tag finden: Datum, Wasserstand, wie das Ufer aussah.

book-contents-title = Inhalt
book-contents-pages = Seiten entlang dem Ufer
book-contents-front = Vor den Seiten
book-contents-back = Nach den Seiten

book-page-tile = Blatt
book-page-edition = Ausgabe { $edition }
book-page-part = Teil { $part }
book-page-profile = Tiefe vor dem Ufer
book-page-no-profile = Kein Tiefenmodell reicht bis an dieses Ufer; deshalb ist kein Profil gezeichnet.
book-page-low-dpi = Eine kleine Datei: gedruckt mit { $dpi } Punkten je Zoll.
book-page-cut = Die ganze Bildunterschrift steht im Verzeichnis der Fotos, Seite { $page }.
book-page-carried = Weitere Anmerkungen zu diesem Ufer stehen auf Seite { $page }.
book-page-previous = Seite { $page }
book-page-next = Seite { $page }
book-page-along = das Ufer entlang
book-page-foot = nicht zur Navigation; Wasserstände wechseln: erst schauen

book-states-title = Wie gut die einzelnen Ufer fotografiert sind
book-states-lead = Jeder Meter Ufer, in Farbe und Muster danach, was die Fotos davon zeigen. Neben den längsten Stücken ohne Foto steht ihre Länge.

book-strip-title = Das Ufer, gerade gezogen
book-strip-lead = Vom Anfangspunkt am Hauptufer entlang, dann um jede Insel: was die Fotos zeigen, wie fein und wie neu sie sind, wie tief das Wasser 20 m vor dem Ufer ist und wie viel davon nahe bei einer Lotung liegt.

book-gaps-title = Ufer ohne Fotos
book-gaps-lead = Kein Foto zeigt mehr als die Hälfte eines dieser Uferabschnitte, und keines ist ihnen zugeordnet. Die Entfernungen zählen ab { $start }, das Wasser zur Rechten, um jede Insel von deren eigenem Anfang.
book-gaps-none = Zu jedem Uferabschnitt gibt es mindestens ein Foto.
book-gaps-columns-1 = Wo
book-gaps-columns-2 = Abschnitte
book-gaps-columns-3 = Von
book-gaps-columns-4 = Bis
book-gaps-columns-5 = Länge
book-gaps-columns-6 = Blatt

book-photos-title = Verzeichnis der Fotos
book-photos-lead = In der Reihenfolge der Seiten. Uhrzeiten gelten für { $zone }. Richtungen sind Grad im Uhrzeigersinn ab geografisch Nord.
book-photos-none = Diese Ausgabe enthält keine Fotos.
book-photos-columns-1 = Datei
book-photos-columns-2 = Seite
book-photos-columns-3 = Aufgenommen
book-photos-columns-4 = Position
book-photos-columns-5 = Richtung
book-photos-number = Nr. { $number }
book-photos-unknown-time = nicht bekannt
book-photos-unknown-direction = nicht bekannt
book-photos-assumed = angenommen
book-photos-caption = Ganze Bildunterschrift:

book-left-out-title = Weggelassene Dateien und warum
book-left-out-none = Keine Datei wurde weggelassen.
book-left-out-columns-1 = Datei
book-left-out-columns-2 = Warum
book-left-out-faults = Andere Eingaben, die sich nicht verwenden ließen

book-carried-title = Anmerkungen, fortgesetzt
book-carried-lead = Diese Anmerkungen fanden auf ihrer Seite keinen Platz.

book-colophon-title = Impressum
book-colophon-made = Gesetzt und gezeichnet von atlasgen { $atlasgen } mit typst { $typst } und pikepdf { $pikepdf }.
book-colophon-type = Gesetzt aus der Source Sans Pro, unter der SIL Open Font License.
book-colophon-photos = Die Fotos stehen in dieser Datei so, wie sie für den Offline-Atlas vorbereitet wurden, nicht ein zweites Mal komprimiert und ohne ihre Metadaten. Jedes druckt mit mindestens { $dpi } Punkten je Zoll, wo seine Datei die Bildpunkte hat; wo nicht, sagt es die Bildunterschrift.
book-colophon-photos-old = Die Fotos stehen in dieser Datei so groß, wie sie gedruckt werden, mit höchstens { $display_dpi } Punkten je Zoll, damit auch ein Anzeigeprogramm mit wenig Speicher sie zeigen kann; der Offline-Atlas hat sie größer. Sie tragen keine Metadaten.
book-colophon-standards = Die Datei weist sich als PDF/UA-1 aus, für Leser, die die Seite hören, und als PDF/A-2a, für Archive.
book-colophon-standards-old = Die Datei ist für alte Anzeigeprogramme gemacht: PDF 1.4, nichts Durchscheinendes; sie weist sich als PDF/A-1b aus, für Archive.
book-colophon-lacking = Der Schrift fehlen { $count } der Zeichen, die in Namen oder Bildunterschriften dieser Vermessung stehen. Jedes ist als ☐ gedruckt; der Offline-Atlas zeigt sie, wie sie sind.
book-colophon-projection = Die Karten sind in der Projektion dieses Sees gezeichnet; ihre Ecken sind in Grad (WGS 84) mit ihnen abgelegt, sodass ein Betrachter Positionen aus dieser Datei ablesen kann.
book-colophon-projection-name = Projektion: { $crs }
book-colophon-tiles = Blätter: { $scheme }.
book-colophon-rules = Nicht zur Navigation. Auf dem Wasser und in der Luft entscheiden die örtlichen Vorschriften und die geprüfte Praxis.

book-outline-cover = Titelseite

# What the program says in the book.

book-depth-unit =
    { $unit ->
        [feet] Fuß
       *[metres] Metern
    }
book-dates = { $first } bis { $last }
book-banks = { $first } bis { $last }
book-three-banks = { $first } über { $middle } bis { $last }
book-sign =
    { $sign ->
        [shore] Zeichen auf den Karten: Uferlinie
        [reach] Zeichen auf den Karten: Uferabschnitt
        [camera] Zeichen auf den Karten: Kamera
        [camera_unknown] Zeichen auf den Karten: Kamera mit unbekannter Richtung
        [seen] Zeichen auf den Karten: gezeigtes Ufer
        [isobath] Zeichen auf den Karten: Tiefenlinie
        [depth] Zeichen auf den Karten: Tiefentönung
        [not_surveyed] Zeichen auf den Karten: nicht vermessen
       *[other] Zeichen auf den Karten: { $sign }
    }
