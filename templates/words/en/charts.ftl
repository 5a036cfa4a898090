# The depth profile off a bank, and histograms.

charts-datum = chart datum
charts-water-that-day = water that day
charts-bank = bank
charts-bound = 95 % bound
charts-break = break: { $depth } at { $distance }
charts-not-known = not known
