# What was met in soundings and passes.

input-reason = { $why ->
    [no-fix-near] no fix near
    [wrong-number-of-cells] wrong number of cells
    [flagged-invalid] flagged invalid
    [no-data-value] no-data value
    [position-out-of-range] position out of range
    [zero-depth] zero depth
    [deeper-than-any-lake] deeper than any lake
    [no-bottom-found] no bottom found
    [depth-of-the-wrong-sign] depth of the wrong sign
    [not-a-number] not a number
    [bad-checksum] bad checksum
    [no-fix] no fix
    [no-position] no position
   *[sent-twice] sent twice, as DPT and DBT
 }
input-a-known-crs-such-as = a coordinate system that PROJ knows, such as "EPSG:32633"
input-is-raster = is a raster
input-soundings-as-points = soundings as points
input-name-it-raster = Name it depth_raster.tif, or export a CSV.
input-no-dpt = holds no DPT or DBT sentence
input-log-with-depths = an NMEA log with depths
input-was-logged = Was the sounder logged?
input-no-checksum = { $file }: { $count } sentences carry no checksum; they were used.
input-sentences-not-used = { $file }: position sentences not used: { $reasons }.
input-log-draught = { $file }: the log states the transducer { $metres } m below the waterline, and that was added. soundings.draught_m is not added to it again.
input-log-no-date = { $file }: no RMC or ZDA sentence gives a date, so these soundings have no time.
input-none-for-depth = { $columns }, none of them for depth
input-heading-depth = a heading such as depth_m
input-name-depth = Name the column in the heading, or in survey.toml as { $key }.
input-depth-units = metres, feet or fathoms
input-convert = Convert the column.
input-units-differ = { $file }: { $column } says { $unit }, survey.toml says { $stated }; the heading was followed.
input-depth-unit-assumed = { $file }: nothing says the unit of { $column }; metres were assumed. State it in survey.toml as soundings.depth_unit = "metres", "feet" or "fathoms".
input-rows-no-time = { $file }: { $count } of { $rows } rows have no time that can be read; their depths are used.
input-no-row-usable = none of { $count } rows can be used ({ $reasons })
input-soundings = soundings
input-look-at-columns = Look at the columns.
input-rows-left-out = { $file }: of { $rows } rows { $used } were used. Left out: { $reasons }.
input-taken-for-no-data = { $file }: { $depth } m stands { $count } times and no other depth is more than half of it, so it was taken to mean that nothing was measured. List it in survey.toml as soundings.no_data to confirm.
input-depths-negative = { $file }: depths in { $column } are negative, so they were read as heights below the surface. State soundings.depth_positive = "up" in survey.toml to confirm.
input-two-signs = column { $column } has { $down } depths above and { $up } below zero; of the fewer, { $count } are { $depth } m
input-one-sign = depths of one sign
input-state-sign = State soundings.depth_positive = "down" or "up" in survey.toml, or list a value that means "nothing measured" in soundings.no_data.
input-an-nmea-log = an NMEA 0183 log
input-none-for-time = { $columns }, none of them for time
input-add-it = Add it.
input-cells-no-number = { $file }: { $count } cells of { $column } are no number from { $low } to { $high }; they count as unknown.
input-pass-lacks = { $what ->
    [time] { $count } no time
    [position] { $count } no position in range
   *[cells] { $count } too many cells
 }
input-no-pass-row = no row can be used ({ $reasons })
input-pass-rows = rows with time, lon and lat
input-mend-them = Mend them.
input-outage-columns = columns pass, channel, from, to, why
input-row-not-used = { $file }: line { $line }: { $fault } The row was not used.
input-outage-channel = channel { $value }. Expected port, starboard or both.
input-outage-time = { $key } { $value }. Expected a date and time such as 2026-05-01 14:03:20.
input-outage-order = from { $start } is later than to { $end }.
input-outage-pass = no pass { $name } at that time. Expected one of: { $known }.
