# Was in Lotungen und Fahrten auffiel.

input-reason = { $why ->
    [no-fix-near] kein Standort in der Nähe
    [wrong-number-of-cells] falsche Zahl von Zellen
    [flagged-invalid] als ungültig gekennzeichnet
    [no-data-value] Wert für „nichts gemessen“
    [position-out-of-range] unmöglicher Ort
    [zero-depth] Tiefe null
    [deeper-than-any-lake] tiefer als jeder See
    [no-bottom-found] kein Grund gefunden
    [depth-of-the-wrong-sign] Tiefe mit falschem Vorzeichen
    [not-a-number] keine Zahl
    [bad-checksum] falsche Prüfsumme
    [no-fix] kein Empfang
    [no-position] kein Ort
   *[sent-twice] doppelt gesendet, als DPT und DBT
 }
input-a-known-crs-such-as = ein Koordinatensystem, das PROJ kennt, etwa "EPSG:32633"
input-is-raster = ist ein Raster
input-soundings-as-points = Lotungen als Punkte
input-name-it-raster = Nennen Sie es depth_raster.tif, oder geben Sie eine CSV-Datei aus.
input-no-dpt = enthält keinen DPT- oder DBT-Satz
input-log-with-depths = ein NMEA-Protokoll mit Tiefen
input-was-logged = Wurde das Echolot aufgezeichnet?
input-no-checksum = { $file }: { $count } Sätze tragen keine Prüfsumme; sie wurden verwendet.
input-sentences-not-used = { $file }: nicht verwendete Standortsätze: { $reasons }.
input-log-draught = { $file }: Laut Protokoll liegt der Geber { $metres } m unter der Wasserlinie, und das wurde addiert. soundings.draught_m kommt nicht noch einmal hinzu.
input-log-no-date = { $file }: Kein RMC- oder ZDA-Satz nennt ein Datum, deshalb haben diese Lotungen keine Zeit.
input-none-for-depth = { $columns }, keine davon für die Tiefe
input-heading-depth = eine Überschrift wie depth_m
input-name-depth = Benennen Sie die Spalte in der Überschrift, oder in survey.toml als { $key }.
input-depth-units = Meter, Fuß oder Faden
input-convert = Rechnen Sie die Spalte um.
input-units-differ = { $file }: { $column } nennt { $unit }, survey.toml nennt { $stated }; es gilt die Überschrift.
input-depth-unit-assumed = { $file }: Nichts nennt die Einheit von { $column }; Meter wurden angenommen. Geben Sie sie in survey.toml an: soundings.depth_unit = "metres", "feet" oder "fathoms".
input-rows-no-time = { $file }: { $count } von { $rows } Zeilen haben keine lesbare Zeit; ihre Tiefen werden verwendet.
input-no-row-usable = keine von { $count } Zeilen ist brauchbar ({ $reasons })
input-soundings = Lotungen
input-look-at-columns = Sehen Sie sich die Spalten an.
input-rows-left-out = { $file }: Von { $rows } Zeilen wurden { $used } verwendet. Weggelassen: { $reasons }.
input-taken-for-no-data = { $file }: { $depth } m steht { $count }-mal da, und keine andere Tiefe ist mehr als halb so groß; es wurde deshalb als „nichts gemessen“ verstanden. Tragen Sie den Wert in survey.toml unter soundings.no_data ein, um das zu bestätigen.
input-depths-negative = { $file }: Die Tiefen in { $column } sind negativ, deshalb wurden sie als Höhen unter der Oberfläche gelesen. Setzen Sie soundings.depth_positive = "up" in survey.toml, um das zu bestätigen.
input-two-signs = die Spalte { $column } hat { $down } Tiefen über und { $up } unter null; von den selteneren sind { $count } gleich { $depth } m
input-one-sign = Tiefen mit einem Vorzeichen
input-state-sign = Setzen Sie soundings.depth_positive = "down" oder "up" in survey.toml, oder nennen Sie in soundings.no_data den Wert für „nichts gemessen“.
input-an-nmea-log = ein Protokoll nach NMEA 0183
input-none-for-time = { $columns }, keine davon für die Zeit
input-add-it = Fügen Sie sie hinzu.
input-cells-no-number = { $file }: { $count } Zellen von { $column } sind keine Zahl von { $low } bis { $high }; sie gelten als nicht bekannt.
input-pass-lacks = { $what ->
    [time] { $count } ohne Zeit
    [position] { $count } ohne möglichen Ort
   *[cells] { $count } mit zu vielen Zellen
 }
input-no-pass-row = keine Zeile ist brauchbar ({ $reasons })
input-pass-rows = Zeilen mit time, lon und lat
input-mend-them = Berichtigen Sie sie.
input-outage-columns = Spalten pass, channel, from, to, why
input-row-not-used = { $file }: Zeile { $line }: { $fault } Die Zeile wurde nicht verwendet.
input-outage-channel = channel { $value }. Erwartet: port, starboard oder both.
input-outage-time = { $key } { $value }. Erwartet: Datum und Zeit wie 2026-05-01 14:03:20.
input-outage-order = from { $start } liegt nach to { $end }.
input-outage-pass = keine Fahrt { $name } zu dieser Zeit. Erwartet: eine von { $known }.
