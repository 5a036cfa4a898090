# Wie jede Meldung über eine Eingabe zusammengesetzt ist.

fault-line = { $file }: { $value }. Erwartet: { $expected }.
