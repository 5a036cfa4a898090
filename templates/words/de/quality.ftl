# Wie gut die Tiefen sind: behaltene Lotungen, Korrekturen, wie gut sich kreuzende Linien übereinstimmen.

quality-title = Wie gut die Tiefen sind
quality-soundings = Gelesene und behaltene Lotungen
quality-kept = { $read } Lotungen wurden gelesen und { $kept } behalten.
quality-left-out = { $count ->
    [one] Die eine weggelassene steht
   *[other] Die { $number } weggelassenen stehen einzeln
 } in audit/soundings_left_out.csv, damit jemand nachsehen kann.
quality-column-why = Warum weggelassen
quality-column-soundings = Lotungen
quality-column-example = Zum Beispiel
quality-file-line = { $file } Zeile { $line }
quality-reduction = Von der aufgezeichneten Tiefe zur Tiefe unter { $datum }
quality-crossings = Wo sich die Linien des Bootes kreuzen
quality-orders-title = Mit einer veröffentlichten Norm verglichen
quality-orders = Die Ordnungen der internationalen Norm für Gewässervermessungen (IHO S-44, Ausgabe 6.1.0) erlauben jeweils bei 95 von
    100 Lotungen einen Fehler, der mit der Tiefe wächst. Zwei Lotungen dürfen um das Wurzel-zwei-Fache davon voneinander abweichen. Die
    Tabelle vergleicht die Kreuzungen mit diesen Grenzen. Sie ist ein Vergleich und nie ein Zeugnis: Eine Vermessung gehört erst dann zu
    einer Ordnung, wenn alles nachgewiesen ist, was die Norm verlangt.
quality-histogram-alt = Histogramm von { $count } Unterschieden an Kreuzungen von Linien, von { $least } bis { $greatest } { $unit }; die
    meisten, { $most }, liegen zwischen { $low } und { $high } { $unit }.
quality-histogram-axis = Unterschied, { $unit }: Tiefe der früheren Linie minus Tiefe der späteren; die äußersten Balken fassen den Rest
quality-column-order = Ordnung
quality-column-allowed = Erlaubter Fehler bei Tiefe d (95 %)
quality-column-within = Kreuzungen innerhalb der Grenze
quality-by-depth = Nach Tiefe
quality-column-depth = Tiefe, { $unit }
quality-column-crossings = Kreuzungen
quality-column-rms = Mittlerer Unterschied (RMS), { $unit }
quality-column-p95 = 95 % innerhalb, { $unit }
quality-band = { $start } bis { $end }
quality-too-few = zu wenige
