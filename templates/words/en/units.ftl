# Numbers with their units, dates, directions. The numbers come as words, already written in the language.

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
    [million-cubic-metres] { $number } million m³
    [acre-feet] { $number } acre-feet
   *[cubic-metres] { $number } m³
 }
units-dry = dry
units-at-full = at full
units-below-full = { $height } below full
units-above-full = { $height } above full
units-percent = { $number } %
units-under-one-percent = under 1 %
units-over-99-percent = over 99 %
units-date = { $day } { $month } { $year }
units-month = { $month } { $year }
units-compass = { $point ->
    [north-north-east] north-north-east
    [north-east] north-east
    [east-north-east] east-north-east
    [east] east
    [east-south-east] east-south-east
    [south-east] south-east
    [south-south-east] south-south-east
    [south] south
    [south-south-west] south-south-west
    [south-west] south-west
    [west-south-west] west-south-west
    [west] west
    [west-north-west] west-north-west
    [north-west] north-west
    [north-north-west] north-north-west
   *[north] north
 }
