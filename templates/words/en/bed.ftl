# The bed off a bank: depths straight out, how it falls, where it breaks, what stands on it.

bed-straight-out = Straight out from the bank: { $depths }.
bed-depth-at = { $depth } at { $distance }
bed-within = In 95 of 100 places like these the depth is within { $bound } of that.
bed-depth-not-known = At { $distances } the depth is not known.
bed-along-reach = Along this reach it is { $least } to { $greatest } at { $distance }.
bed-reached = It is { $depths }.
bed-reached-at = { $depth } deep { $distance } out

bed-slope = Over the first { $distance } from the bank the bottom is { $slope }.
bed-slope-falls = Over the first { $distance } from the bank the bottom is { $slope } ({ $fall }).
bed-steepest-break = Its steepest break falls { $fall }.
bed-no-break = No break stands out from what the soundings themselves leave open.

bed-more-features = { $count } more are in the list behind the pages.
bed-feature = { $kind ->
    [hump] hump
    [ridge] ridge
    [hole] hole
    [channel] channel
   *[ledge] ledge
 } { $number }
bed-feature-first = { $kind ->
    [hump] Hump
    [ridge] Ridge
    [hole] Hole
    [channel] Channel
   *[ledge] Ledge
 } { $number }
bed-how-sure = { $sure ->
    [good] { "" }
    [fair] ; how sure: fair
   *[poor] ; how sure: poor
 }
bed-rise-off = { $name } lies { $distance } off this bank to the { $way }: least depth { $least }, { $height } above the
    bed around it{ bed-how-sure }.
bed-ledge-off = { $name } lies { $distance } off this bank at the nearest, to the { $way }: it drops from { $least } to
    { $greatest }{ bed-how-sure }.
bed-hollow-off = { $name } lies { $distance } off this bank at the nearest, to the { $way }: down to { $greatest },
    { $height } below the bed around it{ bed-how-sure }.

bed-least = least { $depth }
bed-greatest = greatest { $depth }
