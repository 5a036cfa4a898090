# What was met while photos were placed: what is so, what was expected, and the next step.

-place-time-by-hand = If you know better, give its time in corrections.csv.
-place-not-used = It is not used.

place-fault-gps-time = { $file }: GPS time { $gps } cannot be right. Expected a time near the camera clock's { $clock }, which is used. { -place-time-by-hand }
place-fault-no-time = { $file }: no time in the file. Expected GPS time, or the camera's right time. { -place-time-by-hand }
place-fault-camera-time = { $file }: camera time { $day }. Expected GPS time, or the camera's right time. { -place-time-by-hand }
place-fault-hour-twice = { $file }: { $time } came twice in { $zone }, as the clocks were changed. Expected an hour that came once; read as { $utc }. { -place-time-by-hand }
place-fault-hour-never = { $file }: { $time } never came in { $zone }, as the clocks were changed. Expected an hour that came once; read as { $utc }. { -place-time-by-hand }
place-fault-no-camera-name = photos without a camera name
# $clock is place-clock; $advice one of the three below.
place-fault-clock =
    { $side ->
        [ahead] { $camera }: { $clock }, is { $span } ahead of GPS time ({ $seconds } s, { $photos }). Expected at most { $most } s, as photos of this camera without GPS time depend on it. { $advice }
       *[behind] { $camera }: { $clock }, is { $span } behind GPS time ({ $seconds } s, { $photos }). Expected at most { $most } s, as photos of this camera without GPS time depend on it. { $advice }
    }
place-fault-clock-photos =
    { $count ->
        [one] { $count } photo
       *[other] { $count } photos
    }
place-fault-clock-unsteady = { $advice } The difference is not steady (from { $least } to { $most } s): was the clock set in between, or do two cameras share this name?
place-fault-clock-by-hand = Give the time of such photos in corrections.csv.
place-fault-clock-write = In survey.toml, under [[camera]] with match = { $camera }, write { $line }.
# $why is one of the four below.
place-fault-no-position = { $file }: no position in the file; { $why }. Expected a position in EXIF or XMP, or a track that covers its time. Give its lon and lat in corrections.csv.
place-fault-no-track = no track supplied
place-fault-track-no-time = without a time the track cannot place it
place-fault-track-gap = { $time } falls in a gap of { $span } in the track; allowed are { $most } s
place-fault-track-before = { $time } is { $span } before the track starts ({ $first })
place-fault-track-after = { $time } is { $span } after the track ends ({ $last })
place-fault-track-pause = { $time } is in a pause between two pieces of the track
place-fault-far = { $distance } km from the lake; allowed are { $most } m (photos.farthest_from_lake_m in survey.toml). If the position is wrong, give lon and lat in corrections.csv.
# $reason is the crew's own word.
place-fault-left-out = left out by the crew: { $reason }.
place-fault-no-heading = no direction in the file, so the page says that it is not known. Give heading_deg in corrections.csv.
place-fault-course = { $file }: no direction from the track: { $why }. Expected a moving boat's track at the photo's time, as its camera is said to be fixed to the boat. Give heading_deg in corrections.csv.
place-fault-course-no-time = without a time the track cannot tell it
place-fault-course-away = the photo's own position is { $metres } m from the boat's track at that moment
place-fault-course-still = the boat made { $metres } m in { $seconds } s, so it was nearly standing still
place-fault-course-outside = the track does not cover its time
place-fault-course-gap = its time falls in a gap of the track longer than { $seconds } s
place-fault-magnetic-undated = the photo's date is unknown. Expected { $first } up to { $last }; { $model } of { $used } is used.
place-fault-magnetic-year = { $year } is outside the magnetic model's years. Expected { $first } up to { $last }; { $model } of { $used } is used.
place-fault-magnetic-weak = the earth's field is too weak here for a compass ({ $field } nT level). Expected 6000 nT or more.
place-fault-pitch-unclear = { $file }: pitch { $pitch }° ({ $tag }), from level or from straight down. Expected a gimbal's pitch. Give its pitch in corrections.csv (-90 is straight down).
place-fault-pitch = { $file }: pitch { $pitch }° ({ $tag }). Expected -90 to 90°; it is not used. Give its pitch in corrections.csv.
place-fault-takeoff = { $file }: { $above } m above take-off puts it { $under } m under water. Expected a height above the water; it is not used. State takeoff_above_water_m for the camera in survey.toml, or its height in corrections.csv.
# $found is one of the four below.
place-fault-height = { $file }: { $found }. Expected a height above take-off, or an altitude and the lake's elevation above the same thing. Give its height above the water in corrections.csv, or state altitude_above for the camera and level.elevation_above in survey.toml.
place-fault-height-none = no height in the file, though it has the pose of a camera in the air
place-fault-height-of-what = altitude { $altitude } m, but not above what
# $datum and $water: what survey.toml calls it, "sea level" or "ellipsoid".
place-fault-height-other = altitude { $altitude } m above { $datum }, but the water's elevation is above { $water }
place-fault-height-unstated = altitude { $altitude } m above { $datum }, but the water's elevation is not stated
place-fault-no-sheets = tiles.scheme is "sheets", but no sheets were supplied; WebMercatorQuad cells are used. Expected polygons in the file that survey.toml names under [files] sheets.
place-fault-sheets-overlap = sheet { $sheet } overlaps { $others }. What lies in both is put on the sheet that comes first in the file; change the order or cut the sheets to change that.

## The crew's landmarks

# $why is one of those below.
place-fault-landmark = { $file }: row { $row }: { $why }
place-fault-landmark-twice = says what an earlier row says. It is shown once.
place-fault-landmark-private = lies in an area that the crew keeps private. It is not published.
place-fault-landmark-far = { $distance } km from the lake. Expected at most { $most } km; are lon and lat swapped? It is left out.

## Reaches of the edition before

place-fault-former = previous: reaches were matched with the edition before by where they lie: { $parts }.
place-fault-former-kept = { $count } keep the id of the edition before ({ $names })
place-fault-former-new = { $count } are new ({ $names })
place-fault-former-gone = { $count } are no longer given ({ $names })
place-fault-former-is = { $plain } is { $name }
place-fault-and-others = { $names } and others

## Rasters of elevations

place-fault-raster-shows = { $file }: elevation.shows is not set. Expected "ground" or "surface" (with trees and houses). State it in survey.toml under [elevation]. { -place-not-used }
place-fault-raster-water = { $file }: heights above { $above }, but the water's elevation is not stated. Expected level.elevation_m and level.elevation_above in survey.toml. { -place-not-used }
place-fault-raster-other = { $file }: heights above { $above }, but the water's elevation is given above { $water }. Expected both above the same thing. Convert one of them; the difference is local. { -place-not-used }
place-fault-raster-above = { $file }: it is not said what its heights count from. Expected "sea level", "ellipsoid" or "datum". State it in survey.toml under [elevation]. { -place-not-used }
place-fault-raster-two = { $file }: the file counts from { $told }, survey.toml says elevation.above is { $stated }. Expected one and the same. Mend the one that is wrong. { -place-not-used }
place-fault-raster-units = { $file }: the file's unit is { $told }, survey.toml says elevation.unit is { $stated }. Expected one and the same. Mend the one that is wrong. { -place-not-used }
place-fault-raster-unit = { $file }: unit { $told }. Expected metres or feet. State elevation.unit in survey.toml. { -place-not-used }
place-fault-raster-no-unit = { $file }: its unit is not said; taken for metres. State elevation.unit in survey.toml.
place-fault-raster-shore = { $file }: along the shoreline it stands { $metres } m from the chart datum (median). Expected at most { $most } m. Are elevation.above, elevation.unit and level.elevation_m right? { -place-not-used }
place-fault-raster-off = { $file }: along the shoreline it stands { $metres } m from the chart datum (median). It is used.
