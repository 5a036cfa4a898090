# What book and web share: cautions, how to read, and how things are joined.

words-pages =
    { $count ->
        [one] page { $pages }
       *[other] pages { $pages }
    }
words-full-supply-level = full supply level
words-start-point = the start point
words-web-tiles = WebMercatorQuad, zoom { $zoom }
words-own-sheets = the crew's own sheets
words-not-known = not known
words-none-near = none near

## Cautions: common on water and with drones; local rules and licensed practice decide.

words-caution-navigation = This atlas is not for navigation. It shows what the crew saw and measured on the days it states, and no more.
words-caution-level = Water levels change. A depth printed here is below the datum; take off what the lake is down today. Where this atlas says that something is not known, take it that there may be a hazard.
words-caution-between = Between soundings the bed was not measured. Stumps, rocks, wire and new bars can stand where the map is smooth.
words-caution-boat = Wear a life jacket, look before you run, and keep clear of dam walls, spillways, swimmers and nesting birds.
words-caution-photographs = Photographs show the bank on the day they were taken. Plants grow, banks slip, ramps close.
words-caution-drone = If you fly a drone, the rules of the place and the terms of your licence decide. A picture taken from the air here does not mean that you may fly there.
words-caution-landing = A photograph of a bank is no permission to land on it. Respect private land and closed waters.

## How to read a page

words-read-reaches = The shoreline is cut into reaches of about { $length }, counted from { $start } with the water on your right hand, then round each island. A photograph stands on the page of the reach that it shows best; where it is not known what it shows, on that of the nearest.
words-read-colours = What is printed in vermilion is about the camera: where it stood, which way it looked, and the reach it is tied to. What is printed in blue-green is about the water.
words-read-cameras = A dot with a pointer shows a camera whose direction is known; a dot with a question mark, one whose direction is not. The number at the dot is the number under the photograph. The tinted water is what lies in the photograph's frame, and the thin line behind the bank is the shore that it shows.
# $unit: feet or metres.
words-read-depths =
    { $unit ->
        [feet] Depths are in feet below { $level }, rounded toward the shallower. The depth note speaks of the water within { $within } of the bank.
       *[metres] Depths are in metres below { $level }, rounded toward the shallower. The depth note speaks of the water within { $within } of the bank.
    }
words-read-coverage = The coverage note says how much of that water lies near a sounding and in a side-scan picture, and why the rest does not. Where nothing is known, the page says so.
# $slopes is words-slopes, a sentence of its own.
words-read-bounds = A depth between soundings is worked out, not measured. Its bound says how far off it may be: in 95 of 100 places like it the bed lies within the bound. A broken depth line is doubtful. { $slopes } A break is told only where the bed falls half as steeply again as on both sides, by more than the bound.
words-slopes = Slopes are those of the first 20 m from the bank: { $slopes }, very steep beyond.
words-slope-to = { $slope } to { $limit }

## Slopes

words-slope-name =
    { $slope ->
        [nearly-flat] nearly flat
        [gentle] gentle
        [moderate] moderate
        [steep] steep
       *[very-steep] very steep
    }
words-slope-one-in = 1 in { $run }
