"""Areas the crew drew by hand: named places and water not surveyed. Metric corners; names are invented."""

from __future__ import annotations

import shapely

# name, kind, corners (x, y in metres)
PLACES = (
    ("Sallow Flats", "delta", ((-330, 900), (280, 900), (330, 1600), (-330, 1600))),
    ("Marrow Arm", "arm", ((-1500, 560), (-140, 560), (-120, 880), (-330, 1250), (-1500, 1350))),
    ("Tinder Bay", "bay", ((215, 640), (950, 640), (950, 1130), (240, 1130))),
    ("Long Reach Arm", "arm", ((215, -330), (1800, -330), (1800, 250), (215, 250))),
    ("Cask Arm", "arm", ((-1750, -1100), (-210, -1100), (-210, -590), (-1750, -480))),
    ("Pennywort Inlet", "arm", ((290, -1260), (1250, -1260), (1250, -850), (290, -850))),
    ("Hob Islet", "island", ((60, 250), (250, 250), (250, 410), (60, 410))),
    ("Greater Ossel", "island", ((-275, -560), (-85, -560), (-85, -380), (-275, -380))),
    ("Ambrellow Dam", "dam", ((-260, -1440), (260, -1440), (260, -1350), (-260, -1350))),
)  # fmt: skip

NOT_SURVEYED = (
    ("weed on the delta, too thick for the boat", ((-330, 985), (330, 985), (330, 1600), (-330, 1600))),
    ("standing timber in the head of Marrow Arm", ((-1200, 930), (-610, 930), (-610, 1250), (-1200, 1250))),
)  # fmt: skip

# name, kind, x and y in metres, words
LANDMARKS = (
    ("Ambrellow ramp", "ramp", 203, -542, "Concrete, one lane. Usable down to 5 ft below full."),
    ("Ramp car park", "parking", 262, -530, "Twelve places with trailer."),
    ("Tinder Bay track", "access", 560, 1000, "A quarter of an hour on foot from the gate; no vehicles."),
    ("Cask bank steps", "access", -1090, -838, "Steep, slippery after rain."),
    ("Spillway boom", "hazard", 0, -1290, "Keep out of the line of floats when the dam is spilling."),
    ("Drowned fence", "hazard", -805, -740, "Posts and wire from the bank out; dry when the lake is 6 ft down."),
    ("Standing timber", "hazard", -655, 1024, "Dead trees under and over the water, right across the arm."),
    ("Boulder field", "hazard", 365, -5, "Boulders to within 2 ft of the surface at full."),
    ("Gauge house", "place", -120, -1395, "The level of the day hangs at its door."),
    ("Old ferry landing", "place", -330, -250, "Two stone pillars; a good place to find yourself on the map."),
    ("Field pump", "pontoon", 535, -965, "Hoses lie across the bank from May to September."),
)  # fmt: skip

# Left out of every log without a word: the audit must find it by itself.
SKIPPED = ((560, -1250), (1250, -1250), (1250, -850), (560, -850))


def closed_to_boat() -> shapely.MultiPolygon:
    """Everything the boat did not enter."""
    return shapely.MultiPolygon([shapely.Polygon(corners) for _, corners in NOT_SURVEYED] + [shapely.Polygon(SKIPPED)])
