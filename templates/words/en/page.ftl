# How a page is named.

page-title = { $place }, { $bank }
page-on-shore = reach { $reach }, { $distance } along the shore from { $start }
page-on-island = reach { $reach }, island { $island }
page-part = { $where }, { $part } of { $parts }
page-turned = { $where }, taken turning on one spot
# What depths are below, where they are told for another level; $level as in "1.4 ft below full".
page-depths-below = the water standing { $level }
# The same level as a drawing names it.
page-level-name = the water standing { $level }
