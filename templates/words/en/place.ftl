# How it is known where, when and in what pose a photo was taken, and what banks are called. Phrases without a full stop,
# told behind a colon: "Time: GPS time".

## Names of the shore

place-main-shore = main shore
place-shore = shore { $number }
place-island = island { $letter }
place-whole-shore = whole shore
# $point: north, north-east and so on: the side of the water that the bank lies on.
place-bank = { $point } bank
# The same of an island's shore: the way it faces.
place-island-bank = { $point } shore
place-sheet = sheet { $number }

## When

place-time-gps = GPS time
place-time-gps-but =
    { $side ->
        [ahead] GPS time; the { $clock }, is { $span } ahead of GPS time
       *[behind] GPS time; the { $clock }, is { $span } behind GPS time
    }
place-time-none = no usable time in the file
# $read: by its own offset, in the zone set for it, or in the survey's.
place-clock =
    { $read ->
        [own] camera clock with its own offset, { $zone }
        [set] camera clock in the zone set for it, { $zone }
       *[survey] camera clock taken to be in the survey's zone, { $zone }
    }
place-clock-less = { $clock }, less { $seconds } s that it is fast
place-days = { $count } days

## Where

place-by-crew = corrections.csv
place-by-crew-moved = corrections.csv, { $metres } m from what the file says
place-by-track = track at { $time }, between fixes { $seconds } s apart
place-by-track-fix = track at { $time }, at a fix
place-by-photo = the photo's own position ({ $tag })
place-by-photo-error = the photo's own position ({ $tag }), with its own error
place-nowhere = no position
place-private-rounded = told to the nearest 100 m, since the crew keeps it private
place-private-hidden = kept private by the crew; shown at the middle of its reach

## Direction

place-heading-yaw = { $tag }, as its maker wrote it, taken as true
place-heading-true = Exif direction, true
place-heading-default = Exif direction, no reference written, so true by the Exif default
place-heading-magnetic = Exif direction, magnetic, turned by { $turn }° ({ $model })
# $side: bow, or to the right or left of it by $turn degrees.
place-heading-course =
    { $side ->
        [bow] course of the track at that moment ({ $course }°, { $speed } m/s), the camera fixed looking over the bow
        [right] course of the track at that moment ({ $course }°, { $speed } m/s), the camera fixed { $turn }° to the right of the bow
       *[left] course of the track at that moment ({ $course }°, { $speed } m/s), the camera fixed { $turn }° to the left of the bow
    }

## Tilt and width of view

place-level-assumed = assumed level
place-tilt-from-level = { $tag }, counted from level
place-tilt-from-down = { $tag }, counted from straight down
place-view-panorama = assumed: a stitched panorama, its long side taken as { $angle }°
place-view-assumed = assumed: { $angle }° along the long side
place-view-film = 35 mm equivalent { $focal } mm on the diagonal
place-view-film-zoom = 35 mm equivalent { $focal } mm on the diagonal, digital zoom { $zoom }
place-view-sensor = focal length { $focal } mm, sensor { $sensor } mm wide
place-view-sensor-zoom = focal length { $focal } mm, sensor { $sensor } mm wide, digital zoom { $zoom }

## Height

place-height-fixed = the camera is fixed at that height above the water, as survey.toml says
# $datum: sea-level or ellipsoid.
place-height-altitude =
    { $datum ->
        [ellipsoid] altitude above ellipsoid, less that day's water level
       *[sea-level] altitude above sea level, less that day's water level
    }
place-height-altitude-datum =
    { $datum ->
        [ellipsoid] altitude above ellipsoid, less the chart datum, as no water level is known
       *[sea-level] altitude above sea level, less the chart datum, as no water level is known
    }
place-height-eye = assumed: held at eye height at the water's edge
place-height-takeoff-unknown = height above take-off, take-off taken as at water level
place-height-takeoff = height above take-off, which was { $metres } m above the water

## Why it is not known what a photo shows

place-unseen-no-height = its height above the water is not known
place-unseen-under-water = its height above the water is given as { $metres } m
place-unseen-no-tilt = it is not known how far it looked down
place-unseen-no-heading = its direction is not known
place-unseen-leaning = its direction is not known, and it leaned too far from straight down to do without

## What land hides

# $rest is place-land-elsewhere or nothing.
place-land-surface = What the land hides from a camera is judged by the elevations of { $files }, which show what grows on the land, read every { $cell } m; they cover { $share } % of the shoreline.
place-land-ground = What the land hides from a camera is judged by the elevations of { $files }, with { $growth } m of growth taken to stand on the ground, read every { $cell } m; they cover { $share } % of the shoreline.
place-land-elsewhere = Elsewhere the land is taken to rise to { $bank } m within { $over } m of the shoreline, and on by { $slope } m in 100 m up to { $highest } m.
place-land-unused = The elevations supplied could not be used, so what the land hides from a camera is judged by a stand-in. The land is taken to rise to { $bank } m within { $over } m of the shoreline, and on by { $slope } m in 100 m up to { $highest } m.
place-land-none = No elevations were supplied, so what the land hides from a camera is judged by a stand-in. The land is taken to rise to { $bank } m within { $over } m of the shoreline, and on by { $slope } m in 100 m up to { $highest } m.
