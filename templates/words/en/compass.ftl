# A set of photographs taken turning on one spot, round a compass rose.

compass-letters = N E S W
compass-not-photographed = not photographed
compass-alt = Compass, north up, with { $count } photographs round it, each where the camera looked: { $photographs }.
compass-whole-circle = Together they show the whole circle.
compass-gaps = Not photographed, clockwise: { $gaps }.
compass-gap = from { $start } round to { $end } ({ $degrees }°)
compass-and = and
