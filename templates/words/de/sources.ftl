# Wer was vermessen hat, wann und wie gut.

sources-title = Wer was vermessen hat
sources-whole-lake = Der ganze See
sources-tile = Blatt { $tile }
sources-column-what = Was
sources-column-record = Aufzeichnung
sources-column-when = Wann
sources-column-length = Länge
sources-column-area = Fläche
sources-column-how-well = Wie gut
sources-what = { $what ->
    [soundings] Lotungen
    [side-scan] Seitensicht-Sonar
   *[side-scan-coverage] Umrisse von Sonarbildern
 }
sources-spacing = Linien { $distance } auseinander
sources-not-known = nicht bekannt
sources-days = { $first } bis { $last }
