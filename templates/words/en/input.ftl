# What was met in tables, tracks and times of the survey.

input-pipe-or-link = not a regular file but a pipe, a device or a link that leads nowhere
input-unread = cannot be read ({ $error })
input-a-file = a file
input-a-readable-file = a file that can be read
input-not-used = This input is not used.
input-file-not-used = This file is not used.
input-wait = Wait until it is written, then build again.
input-changed = it changed while it was read
input-a-lasting-file = a file that stays as it is
input-lasting-files = files that stay where they are
input-missing = { $files }: not supplied; { $input ->
    [soundings] depth and coverage notes say that nothing is known
    [stage] the water level on the day is not known, and depths are not tied to the datum
    [passes] side-scan passes are not drawn
    [not_surveyed] no reason is given where the survey has gaps
    [places] reaches are named by number only
   *[tracks] photos without a position of their own need a line in the corrections file
 }.
input-put-outline = Put the water's outline there, or name it in survey.toml under [files].
input-one-file = one file
input-name-shoreline = Name the right one in survey.toml under [files] shoreline.
input-put-photos = Put the photos there, in any sub-folders.
input-same-bytes = { $file }: the same bytes as { $other }, which is used. Delete one of them.
input-name-raster = Join them, or name the right one in survey.toml under [files] depth_raster.
input-photos-so-called = { $count } photos have that name: { $files }
input-no-such-photo = no such photo was read
input-corrections-for = corrections for { $file }: { $found }. Expected the path of one photo below the survey folder.
input-cell-not-used = { $place }: { $what }. The cell was not used.
input-a-column = a column { $column }
input-name-columns = Name the columns in the first line.
input-more-cells = more cells than headings. Expected words with a comma in quotation marks
input-several-rows = { $file }: { $photo } has several rows; the last filled cell of each column was used.
input-unknown-columns = { $file }: columns that mean nothing here: { $columns }. Known are { $known }.
input-no-photo-path = is empty. Expected the path of a photo
input-stands-alone = stands alone with { $other } missing or bad. Expected both lon and lat
input-a-number = a number from { $low } to { $high }
input-a-time = a date and time such as 2026-05-01 14:03:20
input-rectangles = left top width height in pixels, such as 1200 300 80 60, several parted by ;
input-rectangle-sizes = a width and a height above 0, and pixels of the photo
input-gpx = GPX 1.0 or 1.1 with a track
input-track-points = { $what ->
    [no-time] track points without a time: { $count }; not used.
    [early] track points dated before 1980, when GPS began: { $count }; not used.
    [back] track points that go back in time: { $count }; their segments were sorted.
    [repeated] track points that repeat a time: { $count }; the first of each was used.
    [zoneless] track points with a time but no zone: { $count }; read as UTC, as GPX asks.
    [no-position] track points without a latitude and longitude in range: { $count }; not used.
    [route] routes: { $count }; not used, they are plans.
    [waypoint] waypoints: { $count }; not used.
    [bad-checksum] position sentences with a wrong checksum: { $count }; not used.
   *[no-fix] position sentences that are no fix: { $count }; not used.
 }
input-track-without-times = { $file }: no track point has a time, so it places no photo. Export it with times.
input-export-track = Export the track again.
input-export-no-plan = Export the track, not the plan or the marks.
input-export-as-gpx = Export the track as GPX.
input-gpx-part = { $part ->
    [route] { $count ->
        [one] { $count } route
       *[other] { $count } routes
     }
    [waypoint] { $count ->
        [one] { $count } waypoint
       *[other] { $count } waypoints
     }
   *[no-position] { $count } track points out of range
 }
input-no-track-point = holds no track point
input-no-track-point-but = holds no track point ({ $found })
input-check-rights = Check its name and rights.
input-declares-entities = declares a document type or entities
input-plain-gpx = plain GPX without them
input-unsound-xml = is no sound XML ({ $error })
input-xml-of-kind = is XML of kind { $kind }
input-times-since = times were read as { $unit } since 1970, UTC.
input-times-no-seconds = times are numbers that are no seconds since 1970; they were not used.
input-times-without-date = times of day without a date: { $count }; they were not used.
input-two-dates = { $example } may mean two dates, so these times were not used. Write 2026-05-01.
input-dates-order = { $first ->
    [day] dates were read with the day first.
   *[month] dates were read with the month first.
 }
input-hour-repeated = times in the hour that clocks repeat in autumn: { $count }; the first of the two was taken.
input-no-heading = has no heading (its first row is { $row })
input-has-columns = has the columns { $columns }
input-no-rows = holds no rows
input-heading-and-row = a heading and at least one row
input-export-table = Export the table again.
input-is-empty = is empty
input-a-table = a table as text
input-not-text = is not text
input-delimited = delimited text, such as CSV
input-delimited-text = delimited text
input-save-as-csv = Save the sheet as CSV in UTF-8 and give that.
input-only-comments = holds only comments or blank lines
input-line-error = line { $line }: { $error }
input-open-quotation = a quotation mark stays open, so each line was taken as a row.
input-no-column = has no column { $column }, which { $key } names
input-a-column-of = one of { $columns }, or a place from 1 to { $count }
input-mend-name = Mend the name in survey.toml.
input-name-another = Name another in survey.toml as { $key }.
input-two-columns = { $file }: columns { $columns } could both be { $role }; { $used } was read.
input-none-for = { $columns }, none of them for { $role }
input-headings-lonlat = headings such as lon and lat
input-name-lonlat = Name the columns in the heading.
input-name-lonlat-or-key = Name the columns in the heading, or in survey.toml as { $key }.lon and { $key }.lat.
input-swapped = { $file }: { $column } holds { $range }, which is no latitude; longitude and latitude were taken the other way round. Mend the headings.
input-name-crs = If these are metres or feet of a projected system, name it in survey.toml as soundings.crs, for example "EPSG:32633".
input-give-wgs84 = Give longitude and latitude on WGS 84.
input-column-runs = column { $column } runs { $range }
input-degrees-within = degrees from -{ $limit } to { $limit }
input-look-like-degrees = columns { $first } and { $second } run { $east } and { $north }, which look like degrees
input-coordinates-in = coordinates in { $crs }, as soundings.crs says
input-take-crs-out = Take soundings.crs out of survey.toml if the file is in longitude and latitude.
input-stage-columns = columns date and stage_m (metres above the datum, negative when drawn down)
input-is-in-unit = { $column } is in { $unit }
input-stage-units = metres or feet, as in stage_m or stage_ft
input-mend-it = Mend it.
input-stage-unit-assumed = { $file }: nothing says the unit of { $column }; metres were assumed. Call it stage_m or stage_ft.
input-and-more = and more
input-stage-bad-rows = { $file }: { $count } of { $rows } rows have no date or no number (line { $lines }); not used.
input-stage-heights = { $column } runs { $low } to { $high } m, which are heights and no stages
input-call-elevation = Call the column elevation_m and give the datum's height in survey.toml as level.elevation_m; it is subtracted then.
input-stage-subtracted = { $file }: { $column } are heights; the datum's { $datum } m (level.elevation_m) were subtracted.
input-stage-taken = { $file }: { $column } was read as the level above the datum. Call it stage_m to confirm.
input-stage-far = { $column } puts the water { $metres } m from the datum
input-stage-within = stages within { $metres } m of it
input-is-unit-right = Is the unit right, and level.elevation_m?
input-stage-differ = { $file }: { $count } times have several stages that differ; the last in the file was used.
input-points-in-layers = points in { $count } layers
input-no-points = holds no points
input-one-layer-of-points = one layer of points with a depth field
input-save-soundings = Save the soundings alone.
input-no-point-shapes = { $file }: { $count } shapes that are no points were not used.
input-copy-previous = Copy atlas.json from the edition before.
input-bytes = has { $count } bytes
input-at-most = at most { $most }
input-other-lake = the lake of { $title } lies elsewhere
input-this-lake = an edition of this lake
input-headless = { $file }: has no heading; by their values, column { $lon } was read as longitude, { $lat } as latitude and { $depth } as depth. A first line of headings would settle it.
input-headless-unclear = has no heading, and its columns ({ $columns }) can be read in more than one way
input-first-line = a first line such as lon,lat,depth_m
input-add-heading = Add it, or give the places in survey.toml: { $key }.lon = "1", { $key }.lat = "2", { $key }.depth = "3".
input-no-reason = no reason given
