# Zahlen mit ihren Einheiten, Daten, Richtungen. Nach einer Himmelsrichtung passt ein -en: Nordost, Nordosten.

units-length = { $unit ->
    [feet] { $number } ft
    [kilometres] { $number } km
    [miles] { $number } mi
   *[metres] { $number } m
 }
units-area = { $unit ->
    [square-metres] { $number } m²
    [square-yards] { $number } sq yd
    [acres] { $number } acres
   *[hectares] { $number } ha
 }
units-volume = { $unit ->
    [million-cubic-metres] { $number } Mio. m³
    [acre-feet] { $number } acre-feet
   *[cubic-metres] { $number } m³
 }
units-dry = trocken
units-at-full = am Stauziel
units-below-full = { $height } unter Stauziel
units-above-full = { $height } über Stauziel
units-percent = { $number } %
units-under-one-percent = unter 1 %
units-over-99-percent = über 99 %
units-date = { $day }. { $month } { $year }
units-month = { $month } { $year }
units-compass = { $point ->
    [north-north-east] Nordnordost
    [north-east] Nordost
    [east-north-east] Ostnordost
    [east] Ost
    [east-south-east] Ostsüdost
    [south-east] Südost
    [south-south-east] Südsüdost
    [south] Süd
    [south-south-west] Südsüdwest
    [south-west] Südwest
    [west-south-west] Westsüdwest
    [west] West
    [west-north-west] Westnordwest
    [north-west] Nordwest
    [north-north-west] Nordnordwest
   *[north] Nord
 }
