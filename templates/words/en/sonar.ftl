# Side-scan: what was covered how well, and each gap with its cause.

sonar-title = Side-scan and its gaps
sonar-lead = Side-scan makes a picture of the bed to both sides of the boat. Where a picture is missing the reason stands here as the
    records tell it. A blank strip is no fault of your display, and a blank does not mean that nothing is there.
sonar-gaps = The gaps
sonar-no-gap = No gap larger than { $area } lies within the surveyed water.
sonar-column-number = No.
sonar-column-where = Where
sonar-column-cause = Cause, size and depths
sonar-column-pages = Pages
sonar-lake-by-coverage = The lake by coverage
sonar-column-coverage = Coverage
sonar-column-area = Area
sonar-column-share = Share of the lake
sonar-gap-where = off { $reach }, at { $at }

# The classes that share out the water, with their part of it.
sonar-class = { $kind ->
    [twice] side-scan twice
    [fine] side-scan once, fine
    [unknown] side-scan, how fine is not known
    [coarse] side-scan, coarse
    [not_surveyable] could not be surveyed, reason given
    [depth_only] depths only, no picture
   *[none] neither depths nor picture
 }
sonar-map-alt = Map of the whole lake by side-scan coverage, north up: { $classes }.
sonar-map-gaps = { $count ->
    [one] { $count } gap listed in the table.
   *[other] { $count } gaps listed in the table.
 }

# What a page says of the water off its bank.
sonar-none-supplied = No side-scan passes were supplied, so nothing is known of a sonar picture here.
sonar-depths = Of the water within { $distance } of this bank, { $depth } has a depth
sonar-depths-none = Of the water within { $distance } of this bank, none has a depth
sonar-head-no-picture = { $head }, and none a side-scan picture.
sonar-head-picture = { $head }, and { $share } a side-scan picture, { $how }.
sonar-head-pictures = { $head }, and { $share } a side-scan picture: { $how }.
sonar-seen = { $kind ->
    [twice] seen by two passes
    [fine] seen once
    [unknown] of unknown quality
   *[coarse] coarse
 }
sonar-share-seen = { $share } { sonar-seen }
sonar-near = Within { $distance } of the bank, { $share } of it has one.
sonar-near-none = Within { $distance } of the bank, none of it has one.

# The share begins the sentence or stands within it.
sonar-missing = { $cause ->
    [under_boat] A side-scan sees nothing in the strip right under the boat; { $share } of this water lies in such a strip. That is how the
        instrument works, and no fault of your display.
    [behind_land] { $share } of this water lies behind land or an island as seen from the boat, so the sonar could not look there.
    [fast_run] In { $share } of this water the boat ran too fast for a fine picture. Big things show there, small ones may not.
    [pass_not_run] In { $share } of this water two passes lie too far apart, and the boat ran none between them.
    [beyond_limit] { $share } of this water lies beyond the limit of the side-scan survey; depths are known there.
    [not_surveyed] Neither soundings nor side-scan reach { $share } of this water, and the records give no reason. Take it that there may
        be a hazard.
    [log_gap] In { $share } of this water the boat's log pauses, so it is not known that a picture was recorded there.
    [unknown_swath] In { $share } of this water the range or the height of the sonar was not recorded, so no picture is counted.
   *[not_recorded] { $share } of this water has no picture, and nothing in the records tells why.
 }
sonar-missing-reason = { $share } could not be surveyed: { $why }.
sonar-lost = { $share } is a blank strip in the picture: the sonar's record was lost there.
sonar-lost-when = { $share } is a blank strip in the picture: the sonar's record was lost there ({ $sides } of pass { $passes }, { $when }).
sonar-side = { $side ->
    [port] port side
   *[starboard] starboard side
 }
sonar-lost-why = The reason on record: { $why }.
sonar-lost-depths = Its depths are good; only the picture is missing, and no fault of your display.
sonar-lost-some-depths = { $share } of it has depths all the same. It is no fault of your display.
sonar-times-unknown = at times that are not known
sonar-times = { $start } to { $end } on { $day }
sonar-times-days = { $start } on { $day } to { $end } on { $last }

# One gap in the table.
sonar-gap = { $cause }; { $area }, { $depths }
sonar-gap-depths = depths known throughout
sonar-gap-no-depths = no depths
sonar-gap-some-depths = depths known over { $share }
sonar-a-pass = a pass
sonar-gap-reason = not surveyed, reason given: { $why }
sonar-gap-lost = { $side ->
    [port] port channel of pass { $run } lost { $when }
   *[starboard] starboard channel of pass { $run } lost { $when }
 }
sonar-gap-lost-why = { sonar-gap-lost }, { $why }
sonar-gap-fast = coarse picture only: pass { $run } was run too fast for its range
sonar-gap-fast-pings = { sonar-gap-fast } ({ $pings } pings on a metre)
sonar-gap-apart = pass not run: passes { $passes } lie { $apart } apart and together reach { $reach }
sonar-gap-log = log of pass { $run } pauses { $when }
# $run: not every cause speaks of one.
sonar-gap-cause = { $cause ->
    [under_boat] strip right under pass { $run }
    [behind_land] behind land as seen from pass { $run }
    [unknown_swath] range or height of pass { $run } not recorded
    [beyond_limit] beyond the limit of the side-scan survey
    [not_surveyed] neither soundings nor side-scan, no reason on record
    [pass_not_run] pass not run
   *[not_recorded] cause not recorded
 }
