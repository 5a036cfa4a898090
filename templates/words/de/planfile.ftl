# The field plan as files for instruments and other programs.

planfile-title = { $title }: Feldplan
planfile-run = Flug { $run }
planfile-legs = Flug { $run }, Wege
planfile-station = Kamerastandort
planfile-station-beyond = Kamerastandort außerhalb einer Akkuladung
planfile-beyond = Außerhalb einer Akkuladung
planfile-heights-ground = Höhen zählen hier vom Gelände des Betrachtungsprogramms; über einem See kann das der Grund oder ein alter Wasserstand sein. Wie hoch das Wasser über dem Meer liegt, ist nicht bekannt. Fliegen Sie nach der Höhe über dem Wasser.
planfile-heights-sea = Höhen zählen hier über dem Meer; das Wasser liegt auf { $height } m.
planfile-check = Seine Höhe: { $check }.
