# What was met in shapes: shoreline, areas, contours, landmarks.

input-vector-formats = a vector file that GDAL reads, such as GeoJSON, GeoPackage, Shapefile or KML
input-features-without-shape = { $count ->
    [one] { $count } feature without a shape left out.
   *[other] { $count } features without a shape left out.
 }
input-no-shapes = holds no shapes
input-shapes-in-it = a vector file with shapes in it
input-export-layer = Export the layer again.
input-ring-closed = an open ring was closed.
input-gdal-says = GDAL says: { $warning }
input-not-there = is not there
input-check-files = Check the name under [files] in survey.toml.
input-copy-shapefile = Copy all parts of the Shapefile (.shp, .shx, .dbf, .prj).
input-wgs84-taken = { $file }: states no coordinate system; WGS 84 longitude and latitude were taken.
input-outside-crs = coordinates outside { $crs }
input-inside-crs = coordinates inside it
input-is-crs-right = Is the system right?
input-no-place-on-earth = is in { $crs }, which is no place on earth
input-a-known-crs = a coordinate system that PROJ knows
input-export-wgs84 = Export it again as GeoJSON in WGS 84.
input-no-crs-no-degrees = states no coordinate system, and its numbers are no degrees ({ $extent })
input-states-crs = a file that states its coordinate system, or longitude and latitude
input-export-or-prj = Export it again as GeoJSON in WGS 84, or put the .prj file beside it.
input-are-swapped = Are longitude and latitude swapped? GeoJSON and WGS 84 exports write longitude first.
input-is-crs-wrong = Is the coordinate system wrong? Set the right one in the program that wrote the file; do not reproject.
input-lonlat-within = longitudes within 180 and latitudes within 90 degrees
input-coordinates-of = coordinates in { $crs }
input-crs-but-runs = says it is in { $crs }, but runs { $extent }
input-a-shape = a shape
input-no-area = { $shape } has no area; left out.
input-not-an-area = { $shape } is a { $kind }, not an area; left out.
input-shapes-without = { $file }: { $count } of { $shapes } shapes have no { $fields }.
input-in-several-layers = { $what ->
    [polygons] polygons in several layers ({ $layers })
    [lines] lines in several layers ({ $layers })
   *[other] { $what } in several layers ({ $layers })
 }
input-shoreline-in-one = the shoreline in one layer
input-save-alone = Save it alone.
input-points-only = holds points only
input-polygons-or-lines = polygons, or lines that close
input-draw-as-area = Draw the water's edge as an area and save that.
input-layer-read = layer { $layer } was read, { $others } not.
input-odd-shapes = { $what ->
    [polygons] { $count } shapes that are no polygons were not used.
    [lines] { $count } shapes that are no lines were not used.
   *[other] { $count } shapes that are no { $what } were not used.
 }
input-vertex-at = a vertex at { $lon }, { $lat }
input-on-globe = degrees on the globe
input-draw-vertex = Draw that vertex again.
input-longitudes-run = longitudes run { $west } to { $east }
input-less-than-180 = a lake that spans less than 180 degrees
input-across-180 = atlasgen cannot lay out a lake across the 180th meridian. Is a stray shape in the file?
input-parts-kept = { $count ->
    [one] { $count } part kept
   *[other] { $count } parts kept
 }
input-nothing-left = nothing of it was left
input-polygon-mended = polygon { $number } was broken ({ $why }) and mended; { $kept }. Look at it on the map.
input-bounds-no-water = bounds no water
input-one-polygon = at least one polygon with an area
input-draw-shoreline = Draw the shoreline again.
input-polygons-inside = { $file }: { $count } polygons lie wholly inside others and were merged with them. If they are islands, cut them out of the water as holes.
input-lines-closed = { $lines } lines were closed into { $rings } rings.
input-loose-lines = { $count } pieces of line close no ring and were left out.
input-line-open = the longest line does not close: from { $start } to { $end } { $metres } m are missing
input-polygon-or-ring = a polygon, or lines that close to a ring
input-close-line = Close the line in the program that drew it.
input-lines-with-field = lines with a field that holds the depth or elevation of each
input-name-field = Name it as depth.contours_field in survey.toml.
input-no-lines = holds no lines
input-export-contours = Export the contours again.
input-field-no-numbers = field { $field } holds no numbers
input-lines-without-number = { $file }: { $count } lines without a number in { $field } were left out.
input-no-field = no field { $field }
input-one-of = one of { $names }
input-fields = fields { $fields }
input-no-fields = no fields
input-both-fields = { $fields } may both hold the values
input-one-field = one such field
input-landmark-columns = columns lon and lat
input-name-landmark-columns = Name the columns in the first line: lon, lat, name, kind, words.
input-landmark-cells = more cells than headings. Expected words with a comma in quotation marks. What is beyond is lost.
input-landmark-no-point = a { $kind }. Expected a point. It is left out.
input-landmark-lon = lon { $value }. Expected degrees, -180 to 180. It is left out.
input-landmark-lat = lat { $value }. Expected degrees, -90 to 90. It is left out.
input-landmark-kind = kind { $value }. Expected one of { $known }. It is shown as other.
input-landmark-long = { $role } of { $letters } letters. Expected at most { $most }. It is cut short.
