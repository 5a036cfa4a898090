# How the numbers were made, told in the back matter, and what bears on the quality of each source.

## Which soundings are used

# $reasons is a list of measure-reason-count.
measure-cleaned = Of { $read } soundings read, { $kept } are used; left out: { $reasons }. { $list } lists them.
measure-cleaned-all = Of { $read } soundings read, { $kept } are used; none was left out.
measure-reason-count = { $reason } ({ $count })
measure-reason-copy = same place and depth as another, and the same time or none
measure-reason-spike = spike: stands alone among its neighbours on the line
measure-reason-land = on land, more than { $metres } m outside the shoreline
measure-reason-jump = position jumps faster than { $speed } m/s
measure-reason-no-level = no water level is known for its time
# $tests is a list of measure-test joined by measure-or.
measure-not-tested = Not tested for { $tests }: switched off in survey.toml.
measure-or = { $one } or { $other }
measure-test =
    { $test ->
        [duplicates] copies
        [land] places on land
        [jumps] jumping positions
       *[spikes] spikes
    }
measure-untimed = { $count } soundings have no time, so their positions were not tested for jumps.
measure-fault-left-out = soundings: { $count } left out ({ $reason }), the first in { $where }, { $depth } m. Look at { $list }.
measure-fault-left-out-half = soundings: { $count } left out ({ $reason }), the first in { $where }, { $depth } m. Look at { $list }. That is more than half: is soundings.crs right?
measure-line = { $file }, line { $row }
measure-no-soundings = No soundings were supplied.
measure-no-depth = So no depth is stated anywhere.
measure-no-soundings-no-depth = No soundings were supplied, so no depth is stated anywhere.

## From the recorded depth to the depth below the datum

measure-draught-surface = The recorded depths count from the water's surface, so no draught was added.
measure-draught-logs = { $words } The draught that a log states is in its depths already: { $logs }.
measure-draught-log = { $file } ({ $draught } m)
measure-draught-added = The transducer's draught of { $draught } m was added.
measure-draught-none = No draught was added: survey.toml states none.
measure-draught-not-lacking = The transducer's draught of { $draught } m was not added: no recorded depth lacks it.
measure-draught-off = The transducer's draught of { $draught } m was not added: switched off in survey.toml.
measure-sound-off = Depths were not corrected for the speed of sound: switched off in survey.toml.
measure-sound-unknown = Depths were not corrected for the speed of sound: the water's temperature is not stated.
measure-sound = Below the transducer depths were multiplied by { $ratio }: fresh water of { $temperature } °C carries sound at { $speed } m/s (Marczak 1997), and the sounder takes { $sounder } m/s.
# Told as a sentence, with a capital and a full stop.
measure-not-by-stage = depths are below the water surface of the survey day: reduction by stage is switched off in survey.toml
measure-reduced =
    { $number ->
        [one] { $count } sounding reduced to the datum by { $file }
       *[other] { $count } soundings reduced to the datum by { $file }
    }
measure-reduced-no-time = { $words }; { $count } without a time left out of depth
measure-reduced-outside = { $words }; { $count } outside the record left out of depth
measure-unreduced-no-record = depths are below the water surface of the survey day, whose level is unknown: there is no stage record
measure-unreduced-no-time = depths are below the water surface of the survey day, whose level is unknown: the soundings have no times to look up in the stage record
measure-unreduced-outside = depths are below the water surface of the survey day, whose level is unknown: the stage record covers none of the soundings

## How a level is known

measure-the-record = the stage record
measure-level-no-record = no stage record: the level is unknown
measure-level-no-time = no time: the level is unknown
measure-level-outside = outside { $file }, which runs from { $first } to { $last }: the level is unknown
measure-level-read = read on { $day } in { $file }
measure-level-between = between the readings of { $before } and { $after } in { $file }
measure-level-many = level known for { $known } of { $count } times
measure-level-undated = no date and no stage are given for it
measure-fault-levels = no level for { $count } photos ({ $files }): they were taken outside the record. Levels are never carried beyond it; add a reading before and after them.
measure-and-others = { $files } and others

## Where lines of soundings cross

measure-no-crossings = No lines of soundings cross, so how well depths repeat was not observed.
measure-few-crossings =
    { $count ->
        [one] Lines of soundings cross only { $count } time: too few to say how well depths repeat.
       *[other] Lines of soundings cross only { $count } times: too few to say how well depths repeat.
    }
measure-crossings = Where lines of soundings cross ({ $count } times), half of the pairs of depths differ by no more than { $median } (root mean square { $rms }, mean { $mean }). An error that all lines share does not show here; on steep ground errors of position count as well.
measure-crossings-most = Where lines of soundings cross ({ $count } times), half of the pairs of depths differ by no more than { $median }, 95 in 100 by no more than { $most } (root mean square { $rms }, mean { $mean }). An error that all lines share does not show here; on steep ground errors of position count as well.
measure-order-share = { $share } % for { $order }
measure-orders = Compared with the vertical allowance of IHO S-44 Ed 6.1.0, a standard for the sea, times the square root of 2 for a difference of two soundings: { $shares } of the crossings are within it, where 95 % would be asked.

## The depth model

measure-model = The depth model has cells of { $cell }: the median sounding of each cell, joined by triangles with the shoreline as depth zero at full supply level. No depth is stated farther than { $near } from a sounding.
measure-model-unreduced = The depth model has cells of { $cell }: the median sounding of each cell, joined by triangles with the shoreline as depth zero, though the level on the survey day is not known. No depth is stated farther than { $near } from a sounding.
measure-no-bound = No bound of error is stated: that takes at least { $lines } survey lines, to leave some out and see how far the others miss them, and { $soundings } soundings on them.
measure-bound = Each depth has a bound within which it should lie 95 times of 100. It was found by leaving whole survey lines out in turn ({ $lines } lines, { $soundings } soundings): it grows with the distance to the nearest sounding or bank and with the relief of the bed. Of the soundings left out, { $inside } lay inside a bound fitted to the others. Half of the model is known to within { $median }, which by the rule of the National Map Accuracy Standards of 1947 supports depth lines every { $interval }; closer lines show the form of the bed, not its exact depth.
measure-percent = { $percent }%
measure-unknown-amount = an unknown amount
measure-smoothed = Depth lines are smoothed by a quarter of a cell at most, and never across a sounding that the model uses.
measure-smoothed-broken = Depth lines are smoothed by a quarter of a cell at most, and never across a sounding that the model uses. They are drawn broken where the bound is more than { $over }, half the interval of the heavy lines.
measure-volumes = Volumes are sums of frusta between level areas of the model.
measure-volumes-unknown = Volumes are sums of frusta between level areas of the model. The depth of { $share } of the lake is not known; its water is in no volume.
measure-supplied-no-bound = No bound of error is stated for it: too few soundings below the datum lie on it to compare.
measure-supplied-bound = Of { $soundings } soundings, which had no part in it as far as is known, 95 of 100 agree with it to within { $bound }; that is the bound of every depth.
measure-raster = The depths are those of the supplied raster { $file }, read as { $reading }, in cells of { $cell }. They take the place of a model of the soundings.
measure-contours = The depths are those of the supplied contours { $file }, read as { $reading }, joined by triangles with each other and with the shoreline as depth zero, in cells of { $cell }. Where only one contour is at hand, as inside the last line of a basin, its own depth is stated within { $near } of it and none beyond. They take the place of a model of the soundings.
measure-within = A page's depth and coverage notes speak of the water within { $within } of its reach.
measure-shown = Every depth is told for the water standing { $level }: modelled at full and counted from there. What lies higher is dry then, as far as the depth model reaches, and is drawn and told as dry. Distances from the bank stay those from the shoreline at full.
measure-shown-low = { $words } No level of the stage record was as low as that.
measure-shown-high = { $words } No level of the stage record was as high as that.

## How supplied depths were read

measure-read-depths = depths below the datum
measure-read-heights = heights against the datum, negative below it
measure-read-elevations = bed elevations, the datum being at { $datum } m
measure-read-contours =
    { $unit ->
        [feet] depths in feet
       *[metres] depths in metres
    }
measure-read-contours-negative =
    { $unit ->
        [feet] depths in feet, negative below the datum
       *[metres] depths in metres, negative below the datum
    }
measure-read-contours-elevation =
    { $unit ->
        [feet] bed elevations in feet, the datum being at { $datum } m
       *[metres] bed elevations in metres, the datum being at { $datum } m
    }

## The form of the bed

# $bound: yes where the depths have a bound, else no.
measure-profiles =
    { $bound ->
        [yes] The profile of a reach is that one of several run square to the bank, one for each 20 m of it, that differs least from their median; a break is told where it is half as steep again as the bed on both sides and deeper than the 95 % bound of the depths.
       *[no] The profile of a reach is that one of several run square to the bank, one for each 20 m of it, that differs least from their median; a break is told where it is half as steep again as the bed on both sides and deeper than what the roughness of the depths explains.
    }
measure-ring = { $inner } to { $outer } m
measure-relief =
    { $bound ->
        [yes] Humps, ridges, holes and channels were sought with the bathymetric position index (Lundblad et al. 2006), against rings of { $rings }, ledges by their slope (Horn 1981). What stands out less than { $times } times the 95 % bound of the depths, rests on fewer than { $cells } sounded cells that do so themselves or lies at the edge of the sounded water is not told.
       *[no] Humps, ridges, holes and channels were sought with the bathymetric position index (Lundblad et al. 2006), against rings of { $rings }, ledges by their slope (Horn 1981). What stands out less than { $times } times what the roughness of the depths explains, rests on fewer than { $cells } sounded cells that do so themselves or lies at the edge of the sounded water is not told.
    }

## Side-scan

measure-swath = What a side-scan channel saw is worked out from the boat's track, the range setting and the sonar's height above the bed, for a flat bed; it ends where land begins. Straight down, steeper than { $angle }° below the horizontal, it shows no bed.
measure-coarse = A picture is coarse where fewer than { $pings } pings meet an object one metre long.
measure-coarse-rate = A picture is coarse where fewer than { $pings } pings meet an object one metre long. The instrument pings at most { $rate } times a second.
measure-speed-computed = Where no speed was recorded, it was taken from positions and times.
measure-outline-only = Some coverage was given as an outline only; how fine its picture is, is not known.
measure-outline-unnamed = outline without a name
measure-height-modelled = Where the sonar's height above the bed was not recorded, the depth model and the level give it.
measure-height-unknown = At { $count } positions of pass { $passes } neither record nor depth model tells the sonar's height, so no picture is counted there.

## What bears on the quality of a source

measure-outline-quality =
    { $quality ->
        [fine] stated to be fine
        [coarse] stated to be coarse
       *[unknown] how fine is not known
    }
# $quality: fine, coarse, partly (coarse) or unknown.
measure-pass-quality =
    { $quality ->
        [fine] fine: { $pings } pings on a one-metre object
        [coarse] coarse: { $pings } pings on a one-metre object
        [partly] partly coarse: { $pings } pings on a one-metre object
       *[unknown] how close its pings lie is not known
    }
# $channel: port or starboard.
measure-channel-lost =
    { $channel ->
        [port] port channel lost for a time
       *[starboard] starboard channel lost for a time
    }
measure-channel-lost-why =
    { $channel ->
        [port] port channel lost for a time: { $why }
       *[starboard] starboard channel lost for a time: { $why }
    }
measure-pauses = pauses in its log
measure-height-from-model = height above the bed from the depth model
measure-height-not-known = height above the bed not known in places
measure-speed-from-positions = speed from positions
