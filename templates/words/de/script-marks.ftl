# Was die Marken sagen.

script-marks-take = Mitnehmen
script-marks-what = Was merken
script-marks-note = Notiz
script-marks-keep = Merken
script-marks-see = Alle Marken ansehen
script-marks-kept = „{ $name }“ ist gemerkt.
script-marks-too-many = Es gibt schon { $most } Marken, mehr gehen nicht. Entfernen Sie erst einige.
script-marks-photo = Seite { $page }, Foto { $number }
script-marks-reach = Uferabschnitt { $id }, { $name }
script-marks-place = Stelle { $number }
script-marks-nameless = Marke ohne Namen
script-marks-stations = { $count ->
    [one] Auch den Standort der Kamera in die Datei aufnehmen
   *[other] Auch die { $count } Standorte der Kamera in die Datei aufnehmen
 }
script-marks-kind = { $kind ->
    [reach] Ufer
    [photo] Standort der Kamera
    [relief] Am Grund
    [landmark] Punkt der Crew
   *[place] Stelle
 }
script-marks-tick = Mitnehmen: { $name }
script-marks-edit = Ändern
script-marks-remove = Entfernen
script-marks-open = Seite öffnen
script-marks-removed = „{ $name }“ ist entfernt.
script-marks-count = { $count ->
    [0] Keine Marken.
    [one] 1 Marke.
   *[other] { $count } Marken.
 }
script-marks-chosen = { $others ->
    [0] { $marks ->
        [0] Noch ist nichts angekreuzt.
        [one] 1 Marke ist angekreuzt.
       *[other] { $marks } Marken sind angekreuzt.
     }
   *[other] { $marks ->
        [0] Keine Marke ist angekreuzt; Punkte der Crew und Standorte: { $others }.
        [one] 1 Marke ist angekreuzt; Punkte der Crew und Standorte: { $others }.
       *[other] { $marks } Marken sind angekreuzt; Punkte der Crew und Standorte: { $others }.
     }
 }
script-marks-store = { $why ->
    [blocked] Dieser Browser lässt den Atlas nichts speichern. Marken bleiben, bis Sie ihn schließen: Sichern Sie sie als Datei.
    [full] Der Speicher des Browsers ist voll. Was dort stand, bleibt; neue Marken bleiben, bis Sie ihn schließen: Sichern Sie sie als Datei.
    [damaged] Die gespeicherten Marken sind nicht lesbar, und es ist kein Platz, sie beiseite zu legen. Sie bleiben, wie sie sind; neue Marken bleiben, bis Sie den Browser schließen.
    [newer] Die gespeicherten Marken stammen aus einer neueren Ausgabe. Sie bleiben, wie sie sind; neue Marken bleiben, bis Sie den Browser schließen.
   *[aside] Einige gespeicherte Marken waren nicht lesbar. Sie wurden im Speicher des Browsers beiseitegelegt, nicht gelöscht.
 }
script-marks-refused = { $why ->
    [large] Die Datei ist größer als 5 MB. Eine Datei mit Marken ist viel kleiner; nichts wurde eingelesen.
    [entities] Die Datei erklärt einen Dokumenttyp, den keine GPX-Datei braucht; nichts wurde eingelesen.
    [gpx] Die Datei ist kein gültiges GPX; nichts wurde eingelesen.
    [geojson] Die Datei ist kein gültiges GeoJSON; nichts wurde eingelesen.
    [empty] Die Datei enthält keine Wegpunkte oder Punkte; nichts wurde eingelesen.
    [unreadable] Die Datei ist nicht lesbar; nichts wurde eingelesen.
   *[neither] Die Datei ist weder GPX noch GeoJSON; nichts wurde eingelesen.
 }
script-marks-came = { $count ->
    [0] Keine neuen Marken.
    [one] 1 Marke wurde eingelesen.
   *[other] { $count } Marken wurden eingelesen.
 }
script-marks-left = { $why ->
    [same] Schon vorhanden und zusammengeführt: { $count }.
    [far] Mehr als 10 km vom See entfernt und weggelassen: { $count }.
    [over] Ohne Platz: { $count }.
   *[bad] Ohne brauchbare Position und weggelassen: { $count }.
 }
script-marks-file-caution = Nicht zur Navigation.
