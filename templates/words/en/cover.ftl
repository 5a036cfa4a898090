# How well the water is surveyed.

cover-tap = Touch any water to read how it was surveyed there.
