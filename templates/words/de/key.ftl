# Zeichenerklärung

key-dry = trocken beim gezeigten Wasserstand
key-low-water = Wasserrand bei Niedrigwasser
key-reach = dieser Abschnitt
key-shore-shown = gezeigtes Ufer
key-water-in-frame = Wasser im Bild
key-camera = Kamera
key-camera-page = Kamera, mit der Nummer ihrer Seite
key-tile = Kartenblatt
key-soundings = Lotungen, eine Linie je Fahrt
key-pass = Sonarfahrt
key-not-surveyed = nicht vermessen, mit dem Grund dafür
key-no-soundings = Wasser ohne Lotungen
key-fallen-dry = trockengefallen: { $area }
key-water-left = Wasser, höchstens { $depth } tief
key-photo-limit = Grenze für ein gutes Foto
key-depths-in =
    { $unit ->
        [feet] Tiefen in Fuß
       *[metres] Tiefen in Metern
    }
