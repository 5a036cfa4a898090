# Die Liste der Kuppen, Rücken, Löcher, Rinnen und Absätze.

relief-title = Was auf dem Grund steht
relief-lead = Kuppen, Rücken, Löcher, Rinnen und Absätze, die die Lotungen hergeben: Jedes dieser Gebilde hebt sich stärker vom Grund
    ringsum ab, als es Fehler der Lotungen könnten. Was schmaler ist als der Abstand zwischen den Linien des Bootes, kann hier fehlen.
relief-none = In diesem See wurde nichts dergleichen gefunden.
relief-found = Gefunden: { $features }.
relief-count = { $kind ->
    [hump] { $count ->
        [one] { $number } Kuppe
       *[other] { $number } Kuppen
     }
    [ridge] { $number } Rücken
    [hole] { $count ->
        [one] { $number } Loch
       *[other] { $number } Löcher
     }
    [channel] { $count ->
        [one] { $number } Rinne
       *[other] { $number } Rinnen
     }
   *[ledge] { $count ->
        [one] { $number } Absatz
       *[other] { $number } Absätze
     }
 }
relief-column-feature = Gebilde
relief-column-where = Wo
relief-column-depth = Tiefe
relief-column-height = Höhe
relief-column-size = Größe
relief-column-sure = Sicher?
relief-column-pages = Seiten
relief-sure = { $sure ->
    [good] ja
    [fair] eher ja
   *[poor] fraglich
 }
relief-out-in-lake = draußen im See, bei { $at }
relief-where = { $distance } in Richtung { $way }en ab { $bank } ({ $reach }), bei { $at }
relief-from-to = von { $top } auf { $foot }
relief-across = { $size } groß
relief-ways = { $start } nach { $end }
relief-long = { $length } lang, Verlauf { $ways }
relief-long-wide = { $length } lang, { $width } breit, Verlauf { $ways }
