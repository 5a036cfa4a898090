# What the crew marks by name: ramps, ways to the water, parking, hazards, places.

landmarks-kind = { $kind ->
    [hazard] Hazard
    [ramp] Ramp
    [access] Way to the water
    [parking] Parking
    [place] Place
   *[other] Other
 }
# In a list under a map and within a sentence.
landmarks-kind-small = { $kind ->
    [hazard] hazard
    [ramp] ramp
    [access] way to the water
    [parking] parking
    [place] place
   *[other] other
 }
# $named is "yes" or "no"; $where comes from landmarks-where.
landmarks-told = { $named ->
    [yes] { landmarks-kind }: { $name }, { $where }.
   *[no] { landmarks-kind }, { $where }.
 }
# $side: water, land, or bank where it is at the bank itself.
landmarks-where = { $side ->
    [water] { $away } off this bank to the { $way }
    [land] { $away } from this bank to the { $way }
   *[bank] at this bank
 }
landmarks-not-only-hazard = It may not be the only one.
landmarks-more = { $count ->
    [one] 1 more is on the map.
   *[other] { $count } more are on the map.
 }
landmarks-nearest-ramp = { $named ->
    [yes] The nearest ramp, { $name }, lies { $away } off to the { $way }, as the crow flies.
   *[no] The nearest ramp lies { $away } off to the { $way }, as the crow flies.
 }
landmarks-marked-caution =
    Hazards are marked where the crew knew of them. Where none is marked there may be one all the same: look before you
    run.
landmarks-unmarked-caution =
    The crew supplied no list of hazards, so none is marked. That does not mean that there are none.
landmarks-alt = Marked: { $names }.
landmarks-alt-one = { $named ->
    [yes] { landmarks-kind-small } { $name }
   *[no] { landmarks-kind-small }
 }
landmarks-title = Ramps, ways in, hazards and places
landmarks-lead = { $count ->
    [one] 1 landmark that the crew marked.
   *[other] { $count } landmarks that the crew marked, hazards first.
 }
landmarks-none = The crew marked no ramps, hazards or places.
landmarks-on-water = on the water
landmarks-on-land = on land
landmarks-off = { $away } from the shoreline
landmarks-tile = tile { $tile }
landmarks-position = Position
landmarks-nearest = Nearest
landmarks-page = Page { $number }, { $title }
landmarks-bank = Reach { $reach }
