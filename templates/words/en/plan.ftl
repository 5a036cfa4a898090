# The plan of the next field day: cautions, stations, runs, and what is left.

plan-proposal = The plan is a proposal, not a flight clearance.
plan-licence = The crew’s licence and the local law decide what may be flown, where and when.
plan-keep-away = Keep away from people, boats, birds and private homes. If any are near a station, leave it out.
plan-legs = Legs are straight lines. The plan knows no trees, wires, masts or hills and no wind: look along each leg before you fly it, and keep the drone in sight as the local rule asks.
plan-turn-back = Turn back when the battery nears its reserve, whatever the plan says. On the water wear a life jacket.
-plan-published = 120 m or 400 ft above ground
plan-check = above { $limit } (the commonly published limit is { -plan-published }): check the local rule
# $check is plan-check.
plan-high =
    { $count ->
        [one] Station { $stations } is { $check } before you fly there.
       *[other] Stations { $stations } are { $check } before you fly there.
    }
plan-high-more = Stations { $stations } and { $more } more are { $check } before you fly there.
plan-not-high = Heights count from the water of the day. No station is above { $limit } (the commonly published limit is { -plan-published }), but the local rule may be lower: check it.

# $held: level, below or above it by $angle degrees.
plan-station =
    { $held ->
        [level] { $height } above the water, heading { $heading }° true ({ $way }), camera level; shows { $shows } of missing shore from { $distance }.
        [below] { $height } above the water, heading { $heading }° true ({ $way }), camera { $angle }° below level; shows { $shows } of missing shore from { $distance }.
       *[above] { $height } above the water, heading { $heading }° true ({ $way }), camera { $angle }° above level; shows { $shows } of missing shore from { $distance }.
    }
plan-station-high = { $station } Its height is { $check }.
plan-stations =
    { $count ->
        [one] { $count } station
       *[other] { $count } stations
    }
plan-run = { $stations }, { $length } of straight legs, about { $time }, { $share }% of a battery; farthest from { $launch } { $farthest }.
plan-run-over-land = { $stations }, { $length } of straight legs, { $land } of it over land, about { $time }, { $share }% of a battery; farthest from { $launch } { $farthest }.

plan-reckoning-time = Time: { $speed } m/s along the legs, { $station } s at each station, { $climb } s for take-off, climb, descent and landing. A battery is taken to last { $battery }, of which { $reserve }% stay in reserve.
plan-reckoning-camera = Camera: { $across }° by { $up }°, { $width } by { $height } pixels. A metre of shore counts as shown when a pixel spans at most { $gsd } cm there and the line of sight meets the bank at { $angle }° or more.
plan-reckoning-error = Room for error: a station is credited only with what it still shows when it is { $distance } out of place, its heading { $heading }° and its pitch { $pitch }° off.

## Why shore is left

plan-why-no-station = no place over the water at the distances tried
plan-why-hidden = hidden by land from every station tried
plan-why-coarse = seen only coarser than the limit
plan-why-slanting = seen only at a lower angle to the bank than the limit
plan-why-beyond = shown only from stations farther than one battery reaches from the launch point and back

## Its maps

plan-key-shore = shore to photograph
plan-key-leg = leg
plan-key-station = station, numbered as in the table, and which way it looks
plan-key-shown = shore the runs show
plan-key-station-run = station, with the number of its run
plan-key-left = missing shore that is left
# $leg is plan-leg.
plan-map-station = Station { $number } is { $leg } on, looking { $way }.
plan-leg = { $distance } { $way }
plan-map-run = Map of run { $run } from { $launch }, north up. { $stations }
plan-map-first = Run { $run }: { $stations }, { $leg } from { $launch } to its first.
plan-map = Map of the whole lake with { $count } runs, north up. { $runs }
plan-map-left = { $map } { $length } of missing shore is left.
