# The strip chart: the shore pulled straight.

strip-lane-air = from the air
strip-lane-shore = from bank or boat
strip-lane-count = number of photos
strip-lane-detail = finest, cm a pixel
strip-lane-newest = newest photo
strip-lane-depth = depth { $distance } off
strip-lane-sounded = near a sounding
strip-months = { $first } to { $last }
strip-continued = { $ring }, continued
strip-round = { $length } round

## In words

strip-chart = Strip chart of the shoreline, { $length }, pulled straight; read from left to right with the water on the right hand. It shows { $rings }.
strip-chart-part = Strip chart of this part of the shoreline, { $length }, pulled straight; read from left to right with the water on the right hand. It shows { $rings }.
strip-ring = { $ring } from { $start } to { $end }
strip-ring-plain = ring { $ring }
strip-rings-more = { $rings } and { $count } more islands
strip-all = All photographs: { $shares }.
strip-aerial = From the air: { $shares }.
strip-shore = From bank or boat: { $shares }.
strip-most = At most { $count } photographs show one bank, the finest at { $gsd } cm a pixel.
strip-newest = The newest of each bank are of { $months }.
strip-gap = { $ring } { $start } to { $end }
strip-gaps = Longest without a photograph: { $gaps }.
