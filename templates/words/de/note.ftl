# Was eine Seite neben ihren Fotos sagt. $within, $near, $level, $day und die Tiefen sind schon Worte.

note-heading =
    { $topic ->
        [depth] Tiefe
        [close] In der Nähe
        [bed] Der Grund vor diesem Ufer
        [coverage] Wie gut vermessen
        [level] Wasserstand
        [shown] Fotos dieses Ufers
        [repeats] Dasselbe Ufer an einem anderen Tag
        [layers] Ältere Bilder dieser Stelle
       *[position] Wo diese Fotos entstanden
    }

## Tiefe

note-no-soundings = Es liegen keine Lotungen vor. Die Tiefe ist hier nicht bekannt.
note-no-soundings-but-depths = Es liegen keine Lotungen vor. Die Tiefen sind die mit der Vermessung gelieferten.
note-none-near = Im Streifen von { $within } vor diesem Ufer wurde nicht gelotet. Die Tiefe ist hier nicht bekannt.
note-none-near-modelled = Im Streifen von { $within } vor diesem Ufer wurde nicht gelotet. Die Tiefen stammen allein aus dem Modell.
# $level steht im Dativ: „Stauziel“, „dem Wasserspiegel ...“.
note-water-on-the-day = dem Wasserspiegel des Tages
note-one-dry = Im Streifen von { $within } vor diesem Ufer liegt eine einzige Lotung. Sie liegt auf Grund, der bei { $level } trocken ist.
note-all-dry = Im Streifen von { $within } vor diesem Ufer liegen { $count } Lotungen, alle auf Grund, der bei { $level } trocken ist.
note-one = Im Streifen von { $within } vor diesem Ufer liegt eine einzige Lotung: { $deepest } unter { $level }.
note-half-dry = { $count } Lotungen im Streifen von { $within } vor diesem Ufer: mindestens die Hälfte auf Grund, der bei { $level } trocken ist, die tiefste { $deepest } darunter.
note-shallowest-dry = { $count } Lotungen im Streifen von { $within } vor diesem Ufer: die flachste auf Grund, der bei { $level } trocken ist, die Hälfte tiefer als { $median }, die tiefste { $deepest } darunter.
note-spread = { $count } Lotungen im Streifen von { $within } vor diesem Ufer: die flachste { $shallowest }, die Hälfte tiefer als { $median }, die tiefste { $deepest } unter { $level }.
note-depth-at = { $depth } bei { $distance }
note-out-from-middle = Aus der Mitte des Uferabschnitts gerade vom Ufer hinaus: { $depths }.
note-unknown-at = Bei { $distances } ist die Tiefe nicht bekannt.
note-not-reduced = Es liegen keine Pegelstände vor, diese Tiefen sind also nicht auf die Bezugshöhe umgerechnet: Sie gelten ab dem Wasserspiegel am Tag der Vermessung.

## Wie gut vermessen

note-how-not-recorded = Es liegen keine Lotungen vor; wie die gelieferten Tiefen vermessen wurden, ist hier nicht festgehalten.
note-coverage-unknown = Wie gut dieses Wasser vermessen ist, ist nicht bekannt.
note-not-surveyed = Es liegen keine Lotungen vor, dieses Wasser gilt also als nicht vermessen.
note-none-covered = Im Streifen von { $within } vor diesem Ufer liegt keine Stelle näher als { $near } an einer Lotung.
note-all-covered = Im Streifen von { $within } vor diesem Ufer liegt alles Wasser höchstens { $near } von einer Lotung entfernt.
note-share-covered = Im Streifen von { $within } vor diesem Ufer liegen { $share } des Wassers höchstens { $near } von einer Lotung entfernt.
note-rest-not-sounded = Der Rest, { $share }, wurde nicht gelotet.
note-marked = Die Crew hat { $share } davon als nicht vermessen markiert: { $reason }.
note-no-reason = Einen Grund dafür nennt die Crew nicht.

## Wasserstand

note-level =
    { $who ->
        [this] Am { $day }, als dieses Foto entstand, stand das Wasser { $level }.
        [all] Am { $day }, als diese Fotos entstanden, stand das Wasser { $level }.
        [one] Am { $day }, als Foto { $numbers } entstand, stand das Wasser { $level }.
       *[some] Am { $day }, als die Fotos { $numbers } entstanden, stand das Wasser { $level }.
    }
note-level-unknown =
    { $who ->
        [this] Der Wasserstand am { $day }, als dieses Foto entstand, ist nicht bekannt.
        [all] Der Wasserstand am { $day }, als diese Fotos entstanden, ist nicht bekannt.
        [one] Der Wasserstand am { $day }, als Foto { $numbers } entstand, ist nicht bekannt.
       *[some] Der Wasserstand am { $day }, als die Fotos { $numbers } entstanden, ist nicht bekannt.
    }
note-day-unknown =
    { $who ->
        [this] Wann dieses Foto entstand, ist nicht bekannt, damit auch nicht der Wasserstand.
        [all] Wann diese Fotos entstanden, ist nicht bekannt, damit auch nicht der Wasserstand.
        [one] Wann Foto { $numbers } entstand, ist nicht bekannt, damit auch nicht der Wasserstand.
       *[some] Wann die Fotos { $numbers } entstanden, ist nicht bekannt, damit auch nicht der Wasserstand.
    }

## Weitere Fotos dieses Ufers

note-not-shown = Kein Foto zeigt dieses Ufer mit Sicherheit.
note-all-shown = Der ganze Uferabschnitt ist auf Fotos zu sehen.
note-share-shown = Von diesem Uferabschnitt sind { $share } auf Fotos zu sehen.
note-elsewhere-on = Seite { $page } (Foto { $photo })
note-elsewhere = Dieses Ufer ist auch zu sehen auf { $pages }.
note-elsewhere-more =
    { $count ->
        [one] Dieses Ufer ist auch zu sehen auf { $pages } und auf einem weiteren Foto.
       *[other] Dieses Ufer ist auch zu sehen auf { $pages } und auf { $count } weiteren Fotos.
    }

## Wo diese Fotos entstanden

note-station = Standort: { $how }.
note-stations =
    { $count ->
        [one] Foto { $numbers }: { $how }.
       *[other] Fotos { $numbers }: { $how }.
    }
