# Old charts, air photos and other pictures that the crew laid on the lake.

layers-title = Old charts and low-water images
layers-lead = An image taken when the lake was drawn down shows the bed as dry ground out to the depth line of that level. A
    historic chart shows how the valley lay; its depths and heights are those of its day.
layers-kind-first = { $kind ->
    [air-photo] Air photo
    [satellite-image] Satellite image
    [historic-chart] Historic chart
   *[sonar-mosaic] Sonar mosaic
 }
layers-head = { layers-kind-first }, its date not known, file { $file }.
layers-head-dated = { layers-kind-first } of { $day }, file { $file }.
layers-covers = It covers the banks of { $pages }.
layers-covers-none = It covers no bank that has a page.
layers-level = The water stood { $level } then ({ $source }).
layers-no-level = The water level then is not known: { $why }.
layers-dry-to = It shows the bed dry out to the { $depth } line, which the maps draw.
layers-no-dry-bed = It shows no dry bed.
layers-residuals = Where each control point lies against the fit
layers-column-point = Control point
layers-column-east = East
layers-column-north = North

layers-name = “{ $title }”
layers-name-dated = “{ $title }” of { $day }
layers-mosaic-here = The sonar mosaic { $name } covers this bank; the coverage note says how well it was seen.
layers-chart-here = The historic chart { $name } covers this bank. It is out by about { $out } here. It is old: take no depth from
    it.
layers-chart-here-unchecked = The historic chart { $name } covers this bank. By how much it is out here is not known. It is old:
    take no depth from it.
# The others are not told by this sentence.
layers-image = { $kind ->
    [air-photo] The air photo { $name }
   *[satellite-image] The satellite image { $name }
 }
layers-image-no-level = { layers-image } covers this bank. The water level then is not known: { $why }.
layers-image-no-dry-bed = { layers-image } covers this bank. It was taken with the water { $level } and shows no dry bed.
layers-image-dry-to = { layers-image }, taken with the water { $level }, shows the bed as dry ground out to the { $depth } line.
layers-fit-how = Laid on the ground by { $count } control points ({ $kind ->
    [affine] affine
   *[similarity] similarity
 }, least squares)
layers-fit = { layers-fit-how }: RMSE { $rmse }, the worst point { $point } with { $worst }.
layers-fit-unchecked = { layers-fit-how }; no point is left over to check it, so how far it is out is not known.
layers-waterline-compared = Over { $length } its own waterline was compared with the { $depth } line: half of it lies within { $half },
    95 % within { $most }.
layers-waterline-not-compared = Its own waterline runs where no depth is known, so it could not be compared.
