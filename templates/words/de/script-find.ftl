# Was das Skript von „Suchen“ sagt.

script-find-all = { $count ->
    [one] Ein Uferabschnitt, { $length } Ufer. Noch ist nichts gefragt.
   *[other] { $count } Uferabschnitte, { $length } Ufer. Noch ist nichts gefragt.
 }
script-find-fit = { $count ->
    [0] Kein Uferabschnitt passt.
    [one] Ein Uferabschnitt passt: { $length } von { $all } Ufer.
   *[other] { $count } Uferabschnitte passen: { $length } von { $all } Ufer.
 }
script-find-unknown = { $count ->
    [one] Einer lässt sich nicht beurteilen: Was Sie fragen, ist dort nicht bekannt.
   *[other] { $count } lassen sich nicht beurteilen: Was Sie fragen, ist dort nicht bekannt.
 }
script-find-less = Fragen Sie nach weniger: Lassen Sie eine Zeile weg, oder gehen Sie weiter vom Ufer weg.
script-find-level = Tiefen und Entfernungen gelten für den See { $level }: Sie zählen ab dem Rand, den das Wasser dann hat.
script-find-place = { $number ->
    [0] { $count ->
        [0] Kein Ufer passt
        [one] Ein Ufer passt
       *[other] { $count } Ufer passen
     }
   *[other] { $number } von { $count } passenden
 }
script-find-no-next = Auf dieser Seite passt kein weiteres Ufer.
script-find-more = { $count ->
    [one] Ein weiteres zeigen
   *[other] { $count } weitere zeigen
 }
script-find-depth = { $from } bis { $to } { $unit } zwischen { $near } und { $far } vom Rand.
script-find-depth-open = { $from } { $unit } und tiefer zwischen { $near } und { $far } vom Rand.
script-find-depth-broken = { $from } bis { $to } { $unit } zwischen { $near } und { $far } vom Rand, nicht durchgehend.
script-find-depth-open-broken = { $from } { $unit } und tiefer zwischen { $near } und { $far } vom Rand, nicht durchgehend.
script-find-break = { $word ->
    [steep] Eine steile Kante, { $near } vom Rand.
    [very-steep] Eine sehr steile Kante, { $near } vom Rand.
   *[other] Eine Kante, { $near } vom Rand.
 }
script-find-relief = { $kind ->
    [hump] Kuppe { $number }, { $near } entfernt.
    [ridge] Rücken { $number }, { $near } entfernt.
    [hole] Loch { $number }, { $near } entfernt.
    [channel] Rinne { $number }, { $near } entfernt.
   *[ledge] Absatz { $number }, { $near } entfernt.
 }
script-find-reach = Uferabschnitt { $reach }
script-find-reach-page = Uferabschnitt { $reach }, Seite { $page }
script-find-band = Die zweite Tiefe muss die größere sein.
script-find-wrong = „{ $asked }“ in der Adresse ist nichts, wonach hier gefragt werden kann. Es bleibt weg.
script-find-slider = { $answer ->
    [fits] Er passt zu Ihrer Frage.
    [unknown] Ob er passt, ist nicht bekannt.
   *[no] Er passt nicht.
 }
