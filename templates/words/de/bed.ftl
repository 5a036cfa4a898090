# Der Grund vor einem Ufer: Tiefen gerade hinaus, wie er fällt, wo er bricht, was auf ihm steht.

bed-straight-out = Gerade vom Ufer hinaus: { $depths }.
bed-depth-at = { $depth } bei { $distance }
bed-within = An 95 von 100 solchen Stellen weicht die Tiefe um höchstens { $bound } davon ab.
bed-depth-not-known = Bei { $distances } ist die Tiefe nicht bekannt.
bed-along-reach = Entlang dieses Uferabschnitts reicht die Tiefe bei { $distance } von { $least } bis { $greatest }.
bed-reached = Erreicht werden { $depths }.
bed-reached-at = { $depth } nach { $distance }

bed-slope = Auf den ersten { $distance } vom Ufer ist der Grund { $slope }.
bed-slope-falls = Auf den ersten { $distance } vom Ufer ist der Grund { $slope } ({ $fall }).
bed-steepest-break = Die steilste Kante fällt { $fall }.
bed-no-break = Keine Kante hebt sich von dem ab, was die Lotungen selbst offen lassen.

bed-more-features = { $count ->
    [one] Ein weiteres Gebilde steht
   *[other] { $count } weitere stehen
 } in der Liste hinter den Seiten.
bed-feature = { $kind ->
    [hump] Kuppe
    [ridge] Rücken
    [hole] Loch
    [channel] Rinne
   *[ledge] Absatz
 } { $number }
bed-feature-first = { bed-feature }
bed-how-sure = { $sure ->
    [good] { "" }
    [fair] ; recht sicher
   *[poor] ; unsicher
 }
bed-rise-off = { $name } liegt { $distance } vor diesem Ufer in Richtung { $way }en: geringste Tiefe { $least }, { $height } über
    dem Grund ringsum{ bed-how-sure }.
bed-ledge-off = { $name } liegt an der nächsten Stelle { $distance } vor diesem Ufer in Richtung { $way }en: Er fällt von
    { $least } auf { $greatest } ab{ bed-how-sure }.
bed-hollow-off = { $name } liegt an der nächsten Stelle { $distance } vor diesem Ufer in Richtung { $way }en: bis { $greatest } tief,
    { $height } unter dem Grund ringsum{ bed-how-sure }.

bed-least = geringste { $depth }
bed-greatest = größte { $depth }
