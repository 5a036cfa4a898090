# Die eigenen Marken des Lesers.

marks-title = Marken
marks-none = Noch keine Marken. Öffnen Sie eine Seite und wählen Sie „Mitnehmen“, oder merken Sie eine Stelle auf der Karte.
marks-undo = Rückgängig
marks-name = Name
marks-note = Notiz
marks-keep = Behalten
marks-cancel = Abbrechen
marks-pick = Eine Stelle auf der Karte merken
marks-take-title = Mitnehmen
marks-landmarks = Auch Punkte der Crew ankreuzen
marks-save-gpx = Als GPX sichern
marks-save-geojson = Als GeoJSON sichern
marks-bring = Marken einlesen (GPX oder GeoJSON)
marks-caution =
    Marken bleiben auf diesem Gerät, in diesem Browser, für diesen See; nichts wird verschickt. Sichern Sie sie als Datei,
    bevor Sie Gerät oder Browser wechseln. Positionen sind nicht zur Navigation bestimmt.
