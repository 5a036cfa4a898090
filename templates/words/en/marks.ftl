# The panel of the reader's own marks.

marks-title = Marks
marks-none = No marks yet. Open a page and choose “Take it with me”, or mark any place on the map.
marks-undo = Undo
marks-name = Name
marks-note = Note
marks-keep = Keep
marks-cancel = Cancel
marks-pick = Mark a place on the map
marks-take-title = Take them with you
marks-landmarks = Tick the crew's landmarks as well
marks-save-gpx = Save as GPX
marks-save-geojson = Save as GeoJSON
marks-bring = Bring in marks (GPX or GeoJSON)
marks-caution =
    Marks stay on this device, in this browser, for this lake; nothing is sent anywhere. Save them as a file before you
    change device or browser. Positions are not for navigation.
