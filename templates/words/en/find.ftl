# "Find": what may be asked of the banks. Each row is one sentence about a bank: "Banks ... with water 6 to 9 ft deep".

find-question = Find
find-title = Find
find-door = Find a place by its name, or banks by depth, wind and more
find-banks = Banks
find-answers-label = Banks that fit
find-answer-before = The bank that fits, before this one
find-answer-after = The next bank that fits
find-all-banks = Back to all banks
find-clear = Clear
find-one-profile = Each bank is judged by the one profile off it that is most like the others; its page tells how they differ.
find-key-fits = is bank that fits what you ask,
find-key-unknown = bank of which that is not known.
find-more = Ask more: relief, direction, tile, photographs, soundings
find-list = All pages as a list
find-no-depths = No depths were supplied with this survey, so banks cannot be asked for depths.

find-depth = with water { $from } to { $to } { $unit } deep within { $within } of the water’s edge
find-from = Water from, { $unit }
find-to = Water to, { $unit }
find-within = Within this far of the water’s edge
find-break = A break in the bed within that distance
find-breaks = { $code ->
    [any] with a break in the bed as near as that
    [steep] with a steep break as near as that
    [very-steep] with a very steep break as near as that
   *[all] with or without a break in the bed
 }
find-slope = How the bed falls
find-slopes = { $code ->
    [flat] nearly flat over the first { $over }
    [gentle] gentle or flatter over the first { $over }
    [moderate] falling moderately over the first { $over }
    [steep] steep or steeper over the first { $over }
    [very-steep] very steep over the first { $over }
   *[all] steep or flat
 }
find-wind = Wind
find-winds = { $code ->
    [lee] sheltered from a { $way } wind
    [open] with a { $way } wind blowing onto it
   *[all] in any wind
 }
find-wind-hint = Only the way the bank faces is judged: the wind comes within 45 degrees of straight off the land, or straight onto it. Trees and hills are not.
find-relief-row = { $kind } within { $near } of the bank
find-relief = Relief of the bed near by
find-reliefs = { $code ->
    [hump] with a hump
    [ridge] with a ridge
    [hole] with a hole
    [channel] with a channel
    [ledge] with a ledge
    [any] with any of these: hump, ridge, hole, channel, ledge
   *[all] with or without relief of the bed
 }
find-near = Relief within this far of the bank
find-faces = The way the bank faces
find-facing = { $code ->
    [all] facing any way
   *[one] facing { $way }
 }
find-tile = Chart tile
find-tiles = { $code ->
    [all] on any tile
   *[one] on tile { $tile }
 }
find-shown = Which photographs show it
find-showns = { $code ->
    [some] shown in a photograph
    [air] shown from the air
    [shore] shown from bank or boat
    [none] shown in no photograph
   *[all] shown in a photograph or not
 }
find-photographed = How well photographed
find-photographs = { $code ->
    [well] photographed well
    [poorly] photographed poorly
    [near] with a photograph taken beside it only
    [none] not photographed yet
   *[all] however well photographed
 }
find-sounded = How well sounded
find-soundeds = { $code ->
    [full] sounded almost all over (more than 90 %)
    [part] sounded by half or more
    [little] sounded by less than half
   *[all] however well sounded
 }

find-example-depth = Banks with { $from } to { $to } { $unit } of water within { $within }
find-example-break = Banks with a break in the bed within { $within }
find-example-lee = Banks sheltered from a { $way } wind
