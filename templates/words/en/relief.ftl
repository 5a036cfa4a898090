# The list of humps, ridges, holes, channels and ledges.

relief-title = What stands on the bed
relief-lead = Humps, ridges, holes, channels and ledges that the soundings bear: each differs from the bed around it by more than the
    errors of the soundings could make. What is narrower than the distance between the boat's lines may be missing here.
relief-none = None was found in this lake.
relief-found = Found: { $features }.
relief-count = { $kind ->
    [hump] { $count ->
        [one] { $number } hump
       *[other] { $number } humps
     }
    [ridge] { $count ->
        [one] { $number } ridge
       *[other] { $number } ridges
     }
    [hole] { $count ->
        [one] { $number } hole
       *[other] { $number } holes
     }
    [channel] { $count ->
        [one] { $number } channel
       *[other] { $number } channels
     }
   *[ledge] { $count ->
        [one] { $number } ledge
       *[other] { $number } ledges
     }
 }
relief-column-feature = Feature
relief-column-where = Where
relief-column-depth = Depth
relief-column-height = Height
relief-column-size = Size
relief-column-sure = How sure
relief-column-pages = Pages
relief-sure = { $sure ->
    [good] good
    [fair] fair
   *[poor] poor
 }
relief-out-in-lake = out in the lake, at { $at }
relief-where = { $distance } { $way } of { $bank } ({ $reach }), at { $at }
relief-from-to = from { $top } down to { $foot }
relief-across = { $size } across
relief-ways = { $start } to { $end }
relief-long = { $length } long, running { $ways }
relief-long-wide = { $length } long, { $width } wide, running { $ways }
