# The pictures of the bed in the offline atlas: the crew's layers and the shaded relief.

pictures-shaded-relief = Shaded relief
pictures-dated = { $title }, { $date }
pictures-relief-about = The bed as if the lake were dry, from the depths: light from the { $direction }, { $altitude }° high,
    heights drawn { $times } times, cells of { $cell } (slopes after Horn, 1981). Nothing where no depth is known.
pictures-about = { $kind ->
    [air-photo] Air photo
    [satellite-image] Satellite image
    [historic-chart] Historic chart
   *[sonar-mosaic] Sonar mosaic
 }{ $dated ->
    [yes] , { $date }
   *[no] , its date not known
 }{ $known ->
    [yes] ; the water stood { $level }.
   *[no] .
 }{ $kind ->
    [historic-chart] {" "}Its heights and depths are those of its day: take none from it.
   *[other] {""}
 }
pictures-old-chart = Old chart. Not for navigation.
pictures-old-chart-out-by = Old chart, out by about { $out }. Not for navigation.

pictures-row = Picture of the bed
pictures-choose = Picture
pictures-none = No picture
pictures-blink = Blink
pictures-blink-with = Blink with
pictures-strength = Strength
pictures-key = Key B blinks
