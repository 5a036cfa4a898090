# The page of what changed between two editions

report-contents = What changed
report-page = page { $page }
report-before = Before
report-now = Now
report-foot = Page numbers are those of edition { $edition }. An atlas is not for navigation; what changed here is what the surveys say, not all that changed in the lake.
