# What the search of the web atlas says.

script-landmark-kind = { $kind ->
    [hazard] Hazard
    [ramp] Ramp
    [access] Way to the water
    [parking] Parking
    [place] Place
   *[other] Other
 }
script-search-kind = { $kind ->
    [hazard] hazard
    [ramp] ramp
    [access] way to the water
    [parking] parking
    [place] place
    [other] other
    [water] water
    [page] page
    [relief] on the bed
    [reach] bank
    [tile] tile
   *[photo] photograph
 }
script-search-page = Page { $number }, { $title }
script-search-reach = Reach { $id }, { $name }
script-search-tile = Tile { $label }
script-search-photo = page { $page }, photo { $number }
script-search-none = Nothing here is called “{ $words }”.
# $shown: how many of them are listed.
script-search-count = { $more ->
    [yes] { $count } found, the first { $shown } are listed.
   *[no] { $count ->
        [one] 1 found.
       *[other] { $count } found.
     }
 }
