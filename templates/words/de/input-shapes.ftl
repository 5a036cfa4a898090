# Was in Formen auffiel: Uferlinie, Flächen, Tiefenlinien, Landmarken.

input-vector-formats = eine Vektordatei, die GDAL liest, etwa GeoJSON, GeoPackage, Shapefile oder KML
input-features-without-shape = { $count ->
    [one] { $count } Objekt ohne Form weggelassen.
   *[other] { $count } Objekte ohne Form weggelassen.
 }
input-no-shapes = enthält keine Formen
input-shapes-in-it = eine Vektordatei mit Formen darin
input-export-layer = Geben Sie die Ebene noch einmal aus.
input-ring-closed = ein offener Ring wurde geschlossen.
input-gdal-says = GDAL meldet: { $warning }
input-not-there = ist nicht vorhanden
input-check-files = Prüfen Sie den Namen unter [files] in survey.toml.
input-copy-shapefile = Kopieren Sie alle Teile des Shapefiles (.shp, .shx, .dbf, .prj).
input-wgs84-taken = { $file }: nennt kein Koordinatensystem; Länge und Breite in WGS 84 wurden angenommen.
input-outside-crs = Koordinaten außerhalb von { $crs }
input-inside-crs = Koordinaten innerhalb
input-is-crs-right = Stimmt das System?
input-no-place-on-earth = ist in { $crs }, und das ist kein Ort auf der Erde
input-a-known-crs = ein Koordinatensystem, das PROJ kennt
input-export-wgs84 = Geben Sie sie noch einmal als GeoJSON in WGS 84 aus.
input-no-crs-no-degrees = nennt kein Koordinatensystem, und die Zahlen sind keine Grad ({ $extent })
input-states-crs = eine Datei, die ihr Koordinatensystem nennt, oder Länge und Breite
input-export-or-prj = Geben Sie sie noch einmal als GeoJSON in WGS 84 aus, oder legen Sie die .prj-Datei daneben.
input-are-swapped = Sind Länge und Breite vertauscht? In GeoJSON und WGS 84 steht die Länge zuerst.
input-is-crs-wrong = Ist das Koordinatensystem falsch? Stellen Sie das richtige in dem Programm ein, das die Datei geschrieben hat; rechnen Sie nicht um.
input-lonlat-within = Längen bis 180 und Breiten bis 90 Grad
input-coordinates-of = Koordinaten in { $crs }
input-crs-but-runs = soll in { $crs } sein, läuft aber { $extent }
input-a-shape = eine Form
input-no-area = { $shape } hat keine Fläche; weggelassen.
input-not-an-area = { $shape } ist { $kind } und keine Fläche; weggelassen.
input-shapes-without = { $file }: { $count } von { $shapes } Formen haben kein { $fields }.
input-in-several-layers = { $what ->
    [polygons] Polygone in mehreren Ebenen ({ $layers })
    [lines] Linien in mehreren Ebenen ({ $layers })
   *[other] { $what } in mehreren Ebenen ({ $layers })
 }
input-shoreline-in-one = die Uferlinie in einer einzigen Ebene
input-save-alone = Speichern Sie sie für sich.
input-points-only = enthält nur Punkte
input-polygons-or-lines = Polygone, oder Linien, die sich schließen
input-draw-as-area = Zeichnen Sie die Wasserkante als Fläche und speichern Sie diese.
input-layer-read = die Ebene { $layer } wurde gelesen, { $others } nicht.
input-odd-shapes = { $what ->
    [polygons] { $count } Formen, die keine Polygone sind, wurden nicht verwendet.
    [lines] { $count } Formen, die keine Linien sind, wurden nicht verwendet.
   *[other] { $count } Formen anderer Art als { $what } wurden nicht verwendet.
 }
input-vertex-at = ein Eckpunkt bei { $lon }, { $lat }
input-on-globe = Grad auf der Erdkugel
input-draw-vertex = Zeichnen Sie diesen Eckpunkt neu.
input-longitudes-run = die Längen laufen von { $west } bis { $east }
input-less-than-180 = ein See, der weniger als 180 Grad umspannt
input-across-180 = atlasgen kann keinen See über den 180. Längengrad hinweg anlegen. Ist eine verirrte Form in der Datei?
input-parts-kept = { $count ->
    [one] { $count } Teil blieb
   *[other] { $count } Teile blieben
 }
input-nothing-left = nichts blieb davon
input-polygon-mended = Polygon { $number } war fehlerhaft ({ $why }) und wurde ausgebessert; { $kept }. Sehen Sie es sich auf der Karte an.
input-bounds-no-water = umschließt kein Wasser
input-one-polygon = mindestens ein Polygon mit einer Fläche
input-draw-shoreline = Zeichnen Sie die Uferlinie neu.
input-polygons-inside = { $file }: { $count } Polygone liegen ganz in anderen und wurden mit ihnen vereinigt. Wenn es Inseln sind, schneiden Sie sie als Löcher aus dem Wasser.
input-lines-closed = { $lines } Linien wurden zu { $rings } Ringen geschlossen.
input-loose-lines = { $count } Linienstücke schließen keinen Ring und wurden weggelassen.
input-line-open = die längste Linie schließt sich nicht: von { $start } bis { $end } fehlen { $metres } m
input-polygon-or-ring = ein Polygon, oder Linien, die sich zum Ring schließen
input-close-line = Schließen Sie die Linie in dem Programm, das sie gezeichnet hat.
input-lines-with-field = Linien mit einem Feld, das Tiefe oder Höhe jeder Linie enthält
input-name-field = Nennen Sie es in survey.toml als depth.contours_field.
input-no-lines = enthält keine Linien
input-export-contours = Geben Sie die Tiefenlinien noch einmal aus.
input-field-no-numbers = das Feld { $field } enthält keine Zahlen
input-lines-without-number = { $file }: { $count } Linien ohne Zahl in { $field } wurden weggelassen.
input-no-field = kein Feld { $field }
input-one-of = eines von { $names }
input-fields = die Felder { $fields }
input-no-fields = keine Felder
input-both-fields = { $fields } können beide die Werte enthalten
input-one-field = ein einziges solches Feld
input-landmark-columns = Spalten lon und lat
input-name-landmark-columns = Benennen Sie die Spalten in der ersten Zeile: lon, lat, name, kind, words.
input-landmark-cells = mehr Zellen als Überschriften. Erwartet: Texte mit Komma in Anführungszeichen. Was darüber hinausgeht, fehlt.
input-landmark-no-point = { $kind }. Erwartet: ein Punkt. Der Eintrag ist weggelassen.
input-landmark-lon = lon { $value }. Erwartet: Grad, -180 bis 180. Der Eintrag ist weggelassen.
input-landmark-lat = lat { $value }. Erwartet: Grad, -90 bis 90. Der Eintrag ist weggelassen.
input-landmark-kind = kind { $value }. Erwartet: eines von { $known }. Der Eintrag erscheint als other.
input-landmark-long = { $role } mit { $letters } Zeichen. Erwartet: höchstens { $most }. Der Text ist gekürzt.
