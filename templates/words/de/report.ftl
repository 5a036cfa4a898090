# The page of what changed between two editions

report-contents = Was sich geändert hat
report-page = Seite { $page }
report-before = Vorher
report-now = Jetzt
report-foot = Die Seitenzahlen sind die der Ausgabe { $edition }. Ein Atlas dient nicht zur Navigation; was sich hier geändert hat, ist, was die Vermessungen sagen, nicht alles, was sich im See geändert hat.
