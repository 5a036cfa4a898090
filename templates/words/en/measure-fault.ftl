# Inputs that could not be used: what is so, what was expected, and the next step.

-measure-not-used = It is not used.

measure-fault-level = level.shown_stage_m: the depths are below the water of the survey day, which no stage record ties to the datum. Expected depths below the datum. Supply stage.csv. The depths are shown as they were taken.
measure-fault-contours-unused = { $file }: { $raster } is there too and goes before it. Expected one of both. { -measure-not-used }
measure-fault-contours-outside = { $file }: none of its lines lies in the water. Expected contours of this lake. { -measure-not-used }
measure-fault-contours-no-area = { $file }: its lines span no area. Expected contours of this lake. { -measure-not-used }
measure-fault-contours-unit = { $file }: field { $field } does not tell its unit. Expected metres or feet. State depth.contours_unit in survey.toml. { -measure-not-used }
measure-fault-contours-show = { $file }: field { $field } may hold depths or elevations. Expected one of both. State depth.contours_show in survey.toml. { -measure-not-used }
measure-fault-contours-elevation = { $file }: field { $field } holds elevations. Expected level.elevation_m, the water's elevation at full supply level. Set it in survey.toml. { -measure-not-used }
measure-fault-contours-signs = { $file }: field { $field } runs from { $least } to { $most }. Expected depths of one sign. Mend the signs. { -measure-not-used }
measure-fault-raster-empty = { $file }: it holds no value in the water. Expected a raster of this lake. { -measure-not-used }
measure-fault-raster-units = { $file }: the file's unit is { $told }, survey.toml says depth.raster_unit is { $stated }. Expected one and the same. Mend the one that is wrong. { -measure-not-used }
measure-fault-raster-unit = { $file }: unit { $told }. Expected metres or feet. State depth.raster_unit in survey.toml. { -measure-not-used }
measure-fault-raster-no-unit = { $file }: its unit is not said. Expected metres or feet. State depth.raster_unit in survey.toml. { -measure-not-used }
measure-values = values from { $least } to { $most } m, { $bank } m at the bank (median)
measure-fault-raster-elevation = { $file }: bed elevations, { $values }. Expected level.elevation_m, the water's elevation at full supply level. Set it in survey.toml. { -measure-not-used }
measure-fault-raster-above = { $file }: heights above { $told }, but the water's elevation is given above { $stated }. Expected both above the same thing. Convert one of them. { -measure-not-used }
measure-fault-raster-readings = { $file }: { $values }: may be { $readings }. Expected a raster that can be read in one way. State depth.raster_shows in survey.toml. { -measure-not-used }
measure-fault-raster-meaning = { $file }: { $values }. Expected depths (0 at the bank) or elevations (full supply elevation at the bank: { $full } m). Check unit, sign and level.elevation_m. { -measure-not-used }
measure-fault-raster-meaning-unstated = { $file }: { $values }. Expected depths (0 at the bank) or elevations (full supply elevation at the bank: not stated). Check unit, sign and level.elevation_m. { -measure-not-used }
# $fault: what is wrong with its control points.
measure-fault-layer = { $fault } The layer is not used.
