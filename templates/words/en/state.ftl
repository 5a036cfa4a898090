# The state of a bank's photographs. $state: well, poorly, near, none or cannot.

# In the key of a map.
state-name =
    { $state ->
        [well] photographed well
        [poorly] photographed poorly
        [near] a camera stood near; it may not show this bank
        [cannot] cannot be photographed
       *[none] no photograph
    }
# Behind a share of the shore: "12 % photographed well".
state-share =
    { $state ->
        [well] { $share } photographed well
        [poorly] { $share } photographed poorly
        [near] { $share } a camera near it only
        [cannot] { $share } where none can be taken
       *[none] { $share } without a photograph
    }
# Behind a number of reaches.
state-count =
    { $state ->
        [well] { $count } photographed well
        [poorly] { $count } photographed poorly
        [near] { $count } a camera stood near; it may not show this bank
        [cannot] { $count } cannot be photographed
       *[none] { $count } no photograph
    }
state-length = { $state }: { $length }, { $percent } %
state-length-said = { $state }, { $length }, { $percent } %
state-rules = Photographed well: one photograph shows the bank with { $gsd } cm a pixel or finer, at { $angle }° to the run of the bank or more, and not more than { $days } days before the newest photograph. Poorly: photographs show it, but none keeps all three limits.
# $limit: gsd, angle or age.
state-failed =
    { $limit ->
        [gsd] { $length } is too coarse
        [angle] { $length } is seen too slantwise
       *[age] { $length } is too old
    }
state-failed-all = Of the bank photographed poorly, { $parts }.
state-failed-several = Of the bank photographed poorly, { $parts }; some of it breaks more than one limit.
state-reason = { $reason }, { $length }
state-reasons = Cannot be photographed, and is not counted as a fault: { $reasons }.
state-gap = { $length } from { $start } along ring { $ring }
state-gaps = Longest without a photograph: { $gaps }.
state-map = Map of the whole lake, { $size }. { $length } of shore: { $states }.
