# Was beim Zuordnen der Fotos auffiel: was ist, was erwartet wurde, und was zu tun ist.

-place-time-by-hand = Falls Sie es besser wissen: Geben Sie die Zeit in corrections.csv an.
-place-not-used = Die Datei wird nicht verwendet.

place-fault-gps-time = { $file }: Die GPS-Zeit { $gps } kann nicht stimmen. Erwartet: eine Zeit nahe der Kamerauhr, { $clock }; diese gilt. { -place-time-by-hand }
place-fault-no-time = { $file }: keine Zeit in der Datei. Erwartet: GPS-Zeit oder die richtige Zeit der Kamera. { -place-time-by-hand }
place-fault-camera-time = { $file }: Kamerazeit { $day }. Erwartet: GPS-Zeit oder die richtige Zeit der Kamera. { -place-time-by-hand }
place-fault-hour-twice = { $file }: { $time } gab es in { $zone } wegen der Zeitumstellung zweimal. Erwartet: eine Stunde, die es einmal gab; gelesen als { $utc }. { -place-time-by-hand }
place-fault-hour-never = { $file }: { $time } gab es in { $zone } wegen der Zeitumstellung nicht. Erwartet: eine Stunde, die es einmal gab; gelesen als { $utc }. { -place-time-by-hand }
place-fault-no-camera-name = Fotos ohne Namen der Kamera
place-fault-clock =
    { $side ->
        [ahead] { $camera }: { $clock }, geht gegenüber der GPS-Zeit { $span } vor ({ $seconds } s, { $photos }). Erwartet: höchstens { $most } s, da Fotos dieser Kamera ohne GPS-Zeit davon abhängen. { $advice }
       *[behind] { $camera }: { $clock }, geht gegenüber der GPS-Zeit { $span } nach ({ $seconds } s, { $photos }). Erwartet: höchstens { $most } s, da Fotos dieser Kamera ohne GPS-Zeit davon abhängen. { $advice }
    }
place-fault-clock-photos =
    { $count ->
        [one] { $count } Foto
       *[other] { $count } Fotos
    }
place-fault-clock-unsteady = { $advice } Der Unterschied schwankt ({ $least } bis { $most } s): Wurde die Uhr zwischendurch gestellt, oder teilen sich zwei Kameras diesen Namen?
place-fault-clock-by-hand = Geben Sie die Zeit solcher Fotos in corrections.csv an.
place-fault-clock-write = Schreiben Sie in survey.toml unter [[camera]] mit match = { $camera }: { $line }.
place-fault-no-position = { $file }: keine Position in der Datei; { $why }. Erwartet: eine Position in EXIF oder XMP, oder eine GPS-Spur, die diese Zeit enthält. Geben Sie lon und lat in corrections.csv an.
place-fault-no-track = keine GPS-Spur vorhanden
place-fault-track-no-time = ohne Zeit lässt es sich auf der GPS-Spur nicht finden
place-fault-track-gap = { $time } fällt in eine Lücke der GPS-Spur von { $span }; erlaubt sind { $most } s
place-fault-track-before = { $time } liegt { $span } vor Beginn der GPS-Spur ({ $first })
place-fault-track-after = { $time } liegt { $span } nach Ende der GPS-Spur ({ $last })
place-fault-track-pause = { $time } liegt in einer Pause zwischen zwei Stücken der GPS-Spur
place-fault-far = { $distance } km vom See entfernt; erlaubt sind { $most } m (photos.farthest_from_lake_m in survey.toml). Falls die Position falsch ist: Geben Sie lon und lat in corrections.csv an.
place-fault-left-out = von der Crew weggelassen: { $reason }.
place-fault-no-heading = keine Richtung in der Datei; die Seite sagt, dass sie nicht bekannt ist. Geben Sie heading_deg in corrections.csv an.
place-fault-course = { $file }: keine Richtung aus der GPS-Spur: { $why }. Erwartet: die Spur eines fahrenden Boots zur Zeit des Fotos, da die Kamera als fest am Boot angegeben ist. Geben Sie heading_deg in corrections.csv an.
place-fault-course-no-time = ohne Zeit sagt die GPS-Spur sie nicht
place-fault-course-away = die Position im Foto selbst ist in diesem Augenblick { $metres } m von der GPS-Spur entfernt
place-fault-course-still = das Boot fuhr { $metres } m in { $seconds } s, es stand also fast
place-fault-course-outside = die GPS-Spur enthält diese Zeit nicht
place-fault-course-gap = die Zeit fällt in eine Lücke der GPS-Spur von mehr als { $seconds } s
place-fault-magnetic-undated = Das Datum des Fotos ist nicht bekannt. Erwartet: { $first } bis { $last }; verwendet ist { $model } von { $used }.
place-fault-magnetic-year = { $year } liegt außerhalb der Jahre des Magnetfeldmodells. Erwartet: { $first } bis { $last }; verwendet ist { $model } von { $used }.
place-fault-magnetic-weak = Das Erdfeld ist hier zu schwach für einen Kompass ({ $field } nT waagerecht). Erwartet: 6000 nT oder mehr.
place-fault-pitch-unclear = { $file }: Neigung { $pitch }° ({ $tag }), von der Waagerechten oder von senkrecht nach unten gezählt. Erwartet: die Neigung einer Kameraaufhängung. Geben Sie die Neigung in corrections.csv an (-90 ist senkrecht nach unten).
place-fault-pitch = { $file }: Neigung { $pitch }° ({ $tag }). Erwartet: -90 bis 90°; sie wird nicht verwendet. Geben Sie die Neigung in corrections.csv an.
place-fault-takeoff = { $file }: { $above } m über dem Startplatz wären { $under } m unter Wasser. Erwartet: eine Höhe über dem Wasser; sie wird nicht verwendet. Geben Sie takeoff_above_water_m der Kamera in survey.toml an oder die Höhe in corrections.csv.
place-fault-height = { $file }: { $found }. Erwartet: eine Höhe über dem Startplatz, oder Höhe der Kamera und Höhe des Sees über demselben Bezug. Geben Sie die Höhe über dem Wasser in corrections.csv an, oder in survey.toml altitude_above der Kamera und level.elevation_above.
place-fault-height-none = keine Höhe in der Datei, obwohl die Haltung die einer Kamera in der Luft ist
place-fault-height-of-what = Höhe { $altitude } m, aber nicht worüber
place-fault-height-other = Höhe { $altitude } m über „{ $datum }“, die Höhe des Wassers aber über „{ $water }“
place-fault-height-unstated = Höhe { $altitude } m über „{ $datum }“, die Höhe des Wassers aber nicht angegeben
place-fault-no-sheets = tiles.scheme ist "sheets", aber es liegen keine Blätter vor; verwendet sind Zellen von WebMercatorQuad. Erwartet: Flächen in der Datei, die survey.toml unter [files] sheets nennt.
place-fault-sheets-overlap = Blatt { $sheet } überdeckt { $others }. Was in beiden liegt, kommt auf das Blatt, das in der Datei zuerst steht; ändern Sie die Reihenfolge, oder schneiden Sie die Blätter anders.

## Die Orte der Crew

place-fault-landmark = { $file }: Zeile { $row }: { $why }
place-fault-landmark-twice = sagt dasselbe wie eine frühere Zeile. Der Ort wird einmal gezeigt.
place-fault-landmark-private = liegt in einem Gebiet, das die Crew nicht preisgibt. Der Ort wird nicht veröffentlicht.
place-fault-landmark-far = { $distance } km vom See entfernt. Erwartet: höchstens { $most } km; sind lon und lat vertauscht? Der Ort wird weggelassen.

## Uferabschnitte der vorigen Ausgabe

place-fault-former = previous: Die Uferabschnitte sind denen der vorigen Ausgabe nach ihrer Lage zugeordnet: { $parts }.
place-fault-former-kept = { $count } mit der Kennung der vorigen Ausgabe ({ $names })
place-fault-former-new = { $count } neu ({ $names })
place-fault-former-gone = { $count } nicht mehr vergeben ({ $names })
place-fault-former-is = { $plain } ist { $name }
place-fault-and-others = { $names } und weitere

## Raster mit Höhen

place-fault-raster-shows = { $file }: elevation.shows ist nicht angegeben. Erwartet: "ground" oder "surface" (mit Bäumen und Häusern). Geben Sie es in survey.toml unter [elevation] an. { -place-not-used }
place-fault-raster-water = { $file }: Höhen über „{ $above }“, die Höhe des Wassers ist aber nicht angegeben. Erwartet: level.elevation_m und level.elevation_above in survey.toml. { -place-not-used }
place-fault-raster-other = { $file }: Höhen über „{ $above }“, die Höhe des Wassers aber über „{ $water }“. Erwartet: beide über demselben Bezug. Rechnen Sie eine von beiden um; der Unterschied hängt vom Ort ab. { -place-not-used }
place-fault-raster-above = { $file }: Es ist nicht gesagt, ab wo die Höhen zählen. Erwartet: "sea level", "ellipsoid" oder "datum". Geben Sie es in survey.toml unter [elevation] an. { -place-not-used }
place-fault-raster-two = { $file }: Die Datei zählt ab { $told }, survey.toml nennt elevation.above { $stated }. Erwartet: ein und dasselbe. Berichtigen Sie das Falsche. { -place-not-used }
place-fault-raster-units = { $file }: Die Einheit der Datei ist { $told }, survey.toml nennt elevation.unit { $stated }. Erwartet: ein und dieselbe. Berichtigen Sie die falsche. { -place-not-used }
place-fault-raster-unit = { $file }: Einheit { $told }. Erwartet: Meter oder Fuß. Geben Sie elevation.unit in survey.toml an. { -place-not-used }
place-fault-raster-no-unit = { $file }: Die Einheit ist nicht gesagt; als Meter gelesen. Geben Sie elevation.unit in survey.toml an.
place-fault-raster-shore = { $file }: An der Uferlinie liegt es { $metres } m neben der Bezugshöhe (Median). Erwartet: höchstens { $most } m. Stimmen elevation.above, elevation.unit und level.elevation_m? { -place-not-used }
place-fault-raster-off = { $file }: An der Uferlinie liegt es { $metres } m neben der Bezugshöhe (Median). Es wird verwendet.
