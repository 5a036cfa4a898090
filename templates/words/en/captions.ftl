# The line under a photograph, the text for those who cannot see it, and how each of its facts was obtained.

captions-line = { $where }, { $what }.
captions-reach = reach { $reach }
captions-kind = { $kind ->
    [aerial] Aerial photograph.
   *[shore] Shore photograph.
 }

# Where the camera stood.
captions-from = { $where ->
    [water] From the water
   *[bank] From the bank
 }
captions-taken-from = { $where ->
    [water] Taken to be from the water, at eye height
   *[bank] Taken to be from the bank, at eye height
 }
captions-from-private = From a place that the crew keeps private
captions-from-air = From the air, height not known
captions-from-height = From { $height } up
captions-from-about = From about { $height } up

# Which way it looks; what follows is one of the lines below.
captions-looking = looking { $way }
captions-looking-down = { $how ->
    [straight] looking straight down
   *[steeply] looking steeply down
 }
captions-direction-not-known = direction not known
captions-direction-not-told = direction not told
captions-no-bank = no bank known to be in view

# At what, and how far off that is.
captions-at = at { $reach }, { $distance } off
captions-across = { $across } at { $reach }, { $distance } off
captions-at-close = at { $reach }, close by
captions-on = on { $reach }, { $distance } off
captions-on-close = on { $reach }, close by
captions-nearest = nearest to { $reach }
captions-at-waters-edge = at the water's edge, nearest to { $reach }
captions-off = { $distance } off the nearest bank, { $reach }
captions-behind = { $distance } behind the nearest bank, { $reach }

captions-when = { $day }, { $time }.
captions-no-date = Date not known.
captions-level = Water { $level }.
captions-no-level = Water level not known.

captions-turn = { $where }, { $count } photographs taken turning on one spot, { $place }.
captions-turn-way = { $way }
captions-north-is-up = North is up.

captions-position = Position: { $how }, accuracy not known
captions-position-within = Position: { $how }, give or take { $within } m
captions-time = Time: { $how }
captions-value = { $what ->
    [heading] Direction
    [pitch] Tilt
    [height] Height above the water
   *[hfov] Width of view
 }
captions-measured = { captions-value }: { $read ->
    [assumed] assumed{ " " }
   *[read] { "" }
 }{ $number }{ $what ->
    [heading] ° true
    [pitch] ° from level
    [height] { " m" }
   *[hfov] °
 }, { $source }
captions-unmeasured = { captions-value }: not known
