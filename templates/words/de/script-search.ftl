# Was die Suche im Web-Atlas sagt.

script-landmark-kind = { $kind ->
    [hazard] Gefahrenstelle
    [ramp] Slipanlage
    [access] Zugang zum Wasser
    [parking] Parkplatz
    [place] Ort
   *[other] Sonstiges
 }
script-search-kind = { $kind ->
    [hazard] Gefahrenstelle
    [ramp] Slipanlage
    [access] Zugang zum Wasser
    [parking] Parkplatz
    [place] Ort
    [other] Sonstiges
    [water] Gewässerteil
    [page] Seite
    [relief] am Grund
    [reach] Ufer
    [tile] Blatt
   *[photo] Foto
 }
script-search-page = Seite { $number }, { $title }
script-search-reach = Uferabschnitt { $id }, { $name }
script-search-tile = Blatt { $label }
script-search-photo = Seite { $page }, Foto { $number }
script-search-none = Nichts heißt hier „{ $words }“.
script-search-count = { $more ->
    [yes] { $count } Treffer, die ersten { $shown } sind aufgeführt.
   *[no] { $count } Treffer.
 }
