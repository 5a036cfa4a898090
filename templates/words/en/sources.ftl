# Who surveyed what, when and how well.

sources-title = Who surveyed what
sources-whole-lake = The whole lake
sources-tile = Tile { $tile }
sources-column-what = What
sources-column-record = Record
sources-column-when = When
sources-column-length = Length
sources-column-area = Area
sources-column-how-well = How well
sources-what = { $what ->
    [soundings] Soundings
    [side-scan] Side-scan
   *[side-scan-coverage] Side-scan coverage
 }
sources-spacing = lines { $distance } apart
sources-not-known = not known
sources-days = { $first } to { $last }
