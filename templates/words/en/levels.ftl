# How much water the lake holds at each level.

levels-title = How much water at which level
levels-column-level = Level
levels-column-area = Area
levels-column-volume = Volume
levels-column-share = Share of the full volume
levels-with-water = With the water { $level }
levels-lowest-photo = The lowest level at which a photograph of this atlas was taken.
levels-left = At this level { $share } of the full lake's water is left.
levels-holds = At { $datum } the lake covers { $area } and holds { $volume } where its depth is known: { $mean } deep in the mean,
    { $most } at most.
levels-unknown = For { $area }, { $share } of the lake, no depth is known; no volume is counted there, so the lake holds more than
    this table says.
levels-shore = Its shore of { $shore } is { $times } times as long as that of a round lake of its area. Volumes are added up from
    slices between the levels, each a frustum; levels between the rows may be taken straight between them.
