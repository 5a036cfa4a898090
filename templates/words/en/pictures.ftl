# The pictures of the bed in the offline atlas: the crew's layers and the shaded relief.

pictures-shaded-relief = Shaded relief
pictures-dated = { $title }, { $date }
pictures-relief-about = The bed as it would lie in the sun if the lake were dry, worked out from the depths: light from the
    { $direction }, { $altitude }° high, heights drawn { $times } times, cells of { $cell } (slopes after Horn, 1981). It
    shows no more than the soundings do. Where no depth is known there is nothing.
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
 }
pictures-old-chart = An old chart: take no depth from it. Not for navigation.
pictures-old-chart-out-by = An old chart, out by about { $out }: take no depth from it. Not for navigation.

pictures-row = Picture of the bed
pictures-choose = Picture
pictures-none = No picture
pictures-blink = Blink
pictures-blink-with = Blink with
pictures-strength = Strength
pictures-key = Key B blinks
