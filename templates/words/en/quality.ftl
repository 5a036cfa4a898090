# How good the depths are: soundings kept, corrections, how well lines agree where they cross.

quality-title = How good the depths are
quality-soundings = Soundings read and kept
quality-kept = { $read } soundings were read and { $kept } kept.
# $count: for a language that tells one from many here.
quality-left-out = The { $number } left out are listed one by one in audit/soundings_left_out.csv, so that a person can look.
quality-column-why = Why left out
quality-column-soundings = Soundings
quality-column-example = For example
quality-file-line = { $file } line { $line }
quality-reduction = From the recorded depth to the depth below { $datum }
quality-crossings = Where the boat's lines cross
quality-orders-title = Compared with a published standard
quality-orders = The orders of the international standard for hydrographic surveys (IHO S-44, edition 6.1.0) each allow an error at 95 in
    100 soundings that grows with depth. Two soundings may differ by the square root of two times that. The table compares the
    crossings with these allowances. It is a comparison, never a certificate: a survey is of an order only when all that the
    standard asks is shown.
quality-histogram-alt = Histogram of { $count } differences where lines cross, from { $least } to { $greatest } { $unit }; most of them,
    { $most }, lie between { $low } and { $high } { $unit }.
quality-histogram-axis = difference, { $unit }: the earlier line's depth less the later one's; the outermost bars hold all beyond
quality-column-order = Order
quality-column-allowed = Error allowed at depth d (95 %)
quality-column-within = Crossings within the allowance
quality-by-depth = By depth
quality-column-depth = Depth, { $unit }
quality-column-crossings = Crossings
quality-column-rms = RMS difference, { $unit }
quality-column-p95 = 95 % within, { $unit }
quality-band = { $start } to { $end }
quality-too-few = too few
