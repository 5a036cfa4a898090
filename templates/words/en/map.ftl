# A map told in words

map-size = about { $width } by { $height }, north up
map-locator =
    { $count ->
        [one] Map of reach { $reaches }, { $size }.
       *[other] Map of reaches { $reaches }, { $size }.
    }
# $looks is map-looks or map-looks-unknown.
map-camera-on-reach = Camera { $number } stood on the reach, { $looks }.
map-camera-off-reach = Camera { $number } stood { $distance } { $way } of it, { $looks }.
map-looks = looking { $way }
map-looks-unknown = direction unknown
map-view-unknown = What it shows is not known.
map-view-no-shore = It is not known to show any shore.
map-view-many = It shows { $length } of shore, parts of { $count } reaches.
map-view =
    { $count ->
        [one] It shows { $length } of shore, reach { $reaches }.
       *[other] It shows { $length } of shore, reaches { $reaches }.
    }
map-span = { $first } to { $last }
map-no-lines = No depth lines here.
map-one-line = One depth line, at { $depth }.
map-lines = Depth lines from { $least } to { $most }.
map-tile = Map of tile { $tile }, { $size }. { $cameras }. { $lines }
map-tile-pages = Map of tile { $tile }, { $size }. { $cameras }, on { $pages }. { $lines }
map-cameras =
    { $count ->
        [0] no cameras
        [one] { $count } camera
       *[other] { $count } cameras
    }
map-overview = Map of the whole lake, { $size }, with { $cameras }.
map-overview-shore =
    { $count ->
        [one] Of { $count } reach: { $states }.
       *[other] Of { $count } reaches: { $states }.
    }
map-overview-tile = { $tile }: { $pages }
map-overview-tiles = Tiles: { $tiles }.
map-sources = How the { $area } of water were surveyed: { $lines }, { $passes }. { $left }
map-sounding-lines =
    { $count ->
        [0] no sounding lines
        [one] { $count } sounding line of { $length } in all
       *[other] { $count } sounding lines of { $length } in all
    }
map-passes =
    { $count ->
        [0] no sonar passes
        [one] { $count } sonar pass of { $length } in all
       *[other] { $count } sonar passes of { $length } in all
    }
map-reason = { $reason } ({ $area })
map-reason-none = no reason given ({ $area })
map-not-surveyed = Not surveyed: { $reasons }.
map-all-surveyed = No part is marked as not surveyed.
map-stage = Map of the whole lake with the water { $level }, north up: { $area } of the bed has fallen dry, the rest is { $depth } deep at most.
map-depth-not-known = depth not known
