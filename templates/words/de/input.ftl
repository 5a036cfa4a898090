# Was in Tabellen, Tracks und Zeiten der Vermessung auffiel.

input-pipe-or-link = keine gewöhnliche Datei, sondern eine Pipe, ein Gerät oder ein Verweis ins Leere
input-unread = lässt sich nicht lesen ({ $error })
input-a-file = eine Datei
input-a-readable-file = eine Datei, die sich lesen lässt
input-not-used = Diese Eingabe wird nicht verwendet.
input-file-not-used = Diese Datei wird nicht verwendet.
input-wait = Warten Sie, bis sie geschrieben ist, und bauen Sie dann neu.
input-changed = sie änderte sich beim Lesen
input-a-lasting-file = eine Datei, die bleibt, wie sie ist
input-lasting-files = Dateien, die bleiben, wo sie sind
input-missing = { $files }: nicht vorhanden; { $input ->
    [soundings] die Hinweise zu Tiefe und Vermessung sagen, dass nichts bekannt ist
    [stage] der Wasserstand des Tages ist nicht bekannt, und Tiefen sind nicht an die Bezugshöhe angebunden
    [passes] Fahrten mit dem Seitensicht-Sonar sind nicht gezeichnet
    [not_surveyed] für Lücken der Vermessung ist kein Grund genannt
    [places] Uferabschnitte heißen nur nach ihrer Nummer
   *[tracks] Fotos ohne eigenen Standort brauchen eine Zeile in der Korrekturdatei
 }.
input-put-outline = Legen Sie den Umriss des Wassers dorthin, oder nennen Sie ihn in survey.toml unter [files].
input-one-file = eine einzige Datei
input-name-shoreline = Nennen Sie die richtige in survey.toml unter [files] shoreline.
input-put-photos = Legen Sie die Fotos dorthin, in beliebige Unterordner.
input-same-bytes = { $file }: dieselben Bytes wie { $other }, das verwendet wird. Löschen Sie eines von beiden.
input-name-raster = Fügen Sie sie zusammen, oder nennen Sie die richtige in survey.toml unter [files] depth_raster.
input-photos-so-called = { $count } Fotos heißen so: { $files }
input-no-such-photo = kein solches Foto wurde gelesen
input-corrections-for = Korrekturen für { $file }: { $found }. Erwartet: der Pfad eines einzigen Fotos unterhalb des Ordners der Vermessung.
input-cell-not-used = { $place }: { $what }. Die Zelle wurde nicht verwendet.
input-a-column = eine Spalte { $column }
input-name-columns = Benennen Sie die Spalten in der ersten Zeile.
input-more-cells = mehr Zellen als Überschriften. Erwartet: Texte mit Komma in Anführungszeichen
input-several-rows = { $file }: { $photo } hat mehrere Zeilen; verwendet wurde je Spalte die letzte gefüllte Zelle.
input-unknown-columns = { $file }: Spalten ohne Bedeutung: { $columns }. Bekannt sind { $known }.
input-no-photo-path = ist leer. Erwartet: der Pfad eines Fotos
input-stands-alone = steht allein, { $other } fehlt oder ist falsch. Erwartet: lon und lat zusammen
input-a-number = eine Zahl von { $low } bis { $high }
input-a-time = Datum und Zeit wie 2026-05-01 14:03:20
input-rectangles = links oben Breite Höhe in Pixeln, etwa 1200 300 80 60, mehrere durch ; getrennt
input-rectangle-sizes = Breite und Höhe über 0, und Pixel des Fotos
input-gpx = GPX 1.0 oder 1.1 mit Trackpunkten
input-track-points = { $what ->
    [no-time] Trackpunkte ohne Zeit: { $count }; nicht verwendet.
    [early] Trackpunkte von vor 1980, als GPS begann: { $count }; nicht verwendet.
    [back] Trackpunkte, die in der Zeit zurückgehen: { $count }; ihre Abschnitte wurden sortiert.
    [repeated] Trackpunkte mit einer Zeit, die schon vorkam: { $count }; verwendet wurde jeweils der erste.
    [zoneless] Trackpunkte mit Zeit, aber ohne Zone: { $count }; als UTC gelesen, wie GPX es verlangt.
    [no-position] Trackpunkte ohne gültige Breite und Länge: { $count }; nicht verwendet.
    [route] Routen: { $count }; nicht verwendet, sie sind Pläne.
    [waypoint] Wegpunkte: { $count }; nicht verwendet.
    [bad-checksum] Standortsätze mit falscher Prüfsumme: { $count }; nicht verwendet.
   *[no-fix] Standortsätze ohne Empfang: { $count }; nicht verwendet.
 }
input-track-without-times = { $file }: Kein Trackpunkt hat eine Zeit, deshalb ordnet er kein Foto ein. Geben Sie ihn mit Zeiten aus.
input-export-track = Geben Sie den Track noch einmal aus.
input-export-no-plan = Geben Sie den Track aus, nicht den Plan oder die Marken.
input-export-as-gpx = Geben Sie den Track als GPX aus.
input-gpx-part = { $part ->
    [route] { $count ->
        [one] { $count } Route
       *[other] { $count } Routen
     }
    [waypoint] { $count ->
        [one] { $count } Wegpunkt
       *[other] { $count } Wegpunkte
     }
   *[no-position] { $count } Trackpunkte mit unmöglichem Ort
 }
input-no-track-point = enthält keinen Trackpunkt
input-no-track-point-but = enthält keinen Trackpunkt ({ $found })
input-check-rights = Prüfen Sie Namen und Rechte.
input-declares-entities = erklärt einen Dokumenttyp oder Entitäten
input-plain-gpx = einfaches GPX ohne sie
input-unsound-xml = ist kein gültiges XML ({ $error })
input-xml-of-kind = ist XML der Art { $kind }
input-times-since = Zeiten wurden als { $unit } seit 1970 (UTC) gelesen.
input-times-no-seconds = Zeiten sind Zahlen, aber keine Sekunden seit 1970; sie wurden nicht verwendet.
input-times-without-date = Uhrzeiten ohne Datum: { $count }; sie wurden nicht verwendet.
input-two-dates = { $example } kann zwei Daten bedeuten, deshalb wurden diese Zeiten nicht verwendet. Schreiben Sie 2026-05-01.
input-dates-order = { $first ->
    [day] Daten wurden mit dem Tag zuerst gelesen.
   *[month] Daten wurden mit dem Monat zuerst gelesen.
 }
input-hour-repeated = Zeiten in der Stunde, die im Herbst zweimal kommt: { $count }; genommen wurde die erste.
input-no-heading = hat keine Überschrift (die erste Zeile ist { $row })
input-has-columns = hat die Spalten { $columns }
input-no-rows = enthält keine Zeilen
input-heading-and-row = eine Überschrift und mindestens eine Zeile
input-export-table = Geben Sie die Tabelle noch einmal aus.
input-is-empty = ist leer
input-a-table = eine Tabelle als Text
input-not-text = ist kein Text
input-delimited = getrennter Text, etwa CSV
input-delimited-text = getrennter Text
input-save-as-csv = Speichern Sie die Tabelle als CSV in UTF-8 und geben Sie diese Datei.
input-only-comments = enthält nur Kommentare oder leere Zeilen
input-line-error = Zeile { $line }: { $error }
input-open-quotation = ein Anführungszeichen bleibt offen, deshalb galt jede Zeile als eine Reihe.
input-no-column = hat keine Spalte { $column }, die { $key } nennt
input-a-column-of = eine aus { $columns }, oder eine Stelle von 1 bis { $count }
input-mend-name = Berichtigen Sie den Namen in survey.toml.
input-name-another = Nennen Sie eine andere in survey.toml als { $key }.
input-two-columns = { $file }: Die Spalten { $columns } könnten beide { $role } sein; gelesen wurde { $used }.
input-none-for = { $columns }, keine davon für { $role }
input-headings-lonlat = Überschriften wie lon und lat
input-name-lonlat = Benennen Sie die Spalten in der Überschrift.
input-name-lonlat-or-key = Benennen Sie die Spalten in der Überschrift, oder in survey.toml als { $key }.lon und { $key }.lat.
input-swapped = { $file }: { $column } enthält { $range }, das ist keine Breite; Länge und Breite wurden andersherum genommen. Berichtigen Sie die Überschriften.
input-name-crs = Wenn es Meter oder Fuß eines projizierten Systems sind, nennen Sie es in survey.toml als soundings.crs, zum Beispiel "EPSG:32633".
input-give-wgs84 = Geben Sie Länge und Breite in WGS 84 an.
input-column-runs = die Spalte { $column } läuft { $range }
input-degrees-within = Grad von -{ $limit } bis { $limit }
input-look-like-degrees = die Spalten { $first } und { $second } laufen { $east } und { $north }, was nach Grad aussieht
input-coordinates-in = Koordinaten in { $crs }, wie soundings.crs sagt
input-take-crs-out = Nehmen Sie soundings.crs aus survey.toml, wenn die Datei Länge und Breite enthält.
input-stage-columns = Spalten date und stage_m (Meter über der Bezugshöhe, negativ wenn abgesenkt)
input-is-in-unit = { $column } ist in { $unit }
input-stage-units = Meter oder Fuß, wie in stage_m oder stage_ft
input-mend-it = Berichtigen Sie es.
input-stage-unit-assumed = { $file }: Nichts nennt die Einheit von { $column }; Meter wurden angenommen. Nennen Sie die Spalte stage_m oder stage_ft.
input-and-more = und weitere
input-stage-bad-rows = { $file }: { $count } von { $rows } Zeilen haben kein Datum oder keine Zahl (Zeile { $lines }); nicht verwendet.
input-stage-heights = { $column } läuft von { $low } bis { $high } m, das sind Höhen und keine Wasserstände
input-call-elevation = Nennen Sie die Spalte elevation_m und geben Sie die Höhe der Bezugshöhe in survey.toml als level.elevation_m an; sie wird dann abgezogen.
input-stage-subtracted = { $file }: { $column } sind Höhen; die { $datum } m der Bezugshöhe (level.elevation_m) wurden abgezogen.
input-stage-taken = { $file }: { $column } wurde als Wasserstand über der Bezugshöhe gelesen. Nennen Sie die Spalte stage_m, um das zu bestätigen.
input-stage-far = nach { $column } steht das Wasser { $metres } m von der Bezugshöhe
input-stage-within = Wasserstände innerhalb von { $metres } m
input-is-unit-right = Stimmen die Einheit und level.elevation_m?
input-stage-differ = { $file }: Zu { $count } Zeiten gibt es mehrere verschiedene Wasserstände; verwendet wurde der letzte in der Datei.
input-points-in-layers = Punkte in { $count } Ebenen
input-no-points = enthält keine Punkte
input-one-layer-of-points = eine Ebene von Punkten mit einem Feld für die Tiefe
input-save-soundings = Speichern Sie die Lotungen für sich.
input-no-point-shapes = { $file }: { $count } Formen, die keine Punkte sind, wurden nicht verwendet.
input-copy-previous = Kopieren Sie atlas.json aus der vorigen Ausgabe.
input-bytes = hat { $count } Bytes
input-at-most = höchstens { $most }
input-other-lake = der See von { $title } liegt anderswo
input-this-lake = eine Ausgabe dieses Sees
input-headless = { $file }: hat keine Überschrift; nach den Werten wurde Spalte { $lon } als Länge gelesen, { $lat } als Breite und { $depth } als Tiefe. Eine erste Zeile mit Überschriften würde das klären.
input-headless-unclear = hat keine Überschrift, und ihre Spalten ({ $columns }) sind auf mehr als eine Weise zu lesen
input-first-line = eine erste Zeile wie lon,lat,depth_m
input-add-heading = Fügen Sie sie hinzu, oder geben Sie die Stellen in survey.toml an: { $key }.lon = "1", { $key }.lat = "2", { $key }.depth = "3".
input-no-reason = ohne Angabe von Gründen
