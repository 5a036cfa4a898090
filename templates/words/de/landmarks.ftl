# Was die Crew mit Namen verzeichnet: Slipanlagen, Zugänge, Parkplätze, Gefahrenstellen, Orte.

landmarks-kind = { $kind ->
    [hazard] Gefahrenstelle
    [ramp] Slipanlage
    [access] Zugang zum Wasser
    [parking] Parkplatz
    [place] Ort
   *[other] Sonstiges
 }
landmarks-kind-small = { $kind ->
    [hazard] Gefahrenstelle
    [ramp] Slipanlage
    [access] Zugang zum Wasser
    [parking] Parkplatz
    [place] Ort
   *[other] Sonstiges
 }
landmarks-told = { $named ->
    [yes] { landmarks-kind }: { $name }, { $where }.
   *[no] { landmarks-kind }, { $where }.
 }
landmarks-where = { $side ->
    [water] { $away } vor diesem Ufer, Richtung { $way }
    [land] { $away } von diesem Ufer, Richtung { $way }
   *[bank] an diesem Ufer
 }
landmarks-not-only-hazard = Es muss nicht die einzige sein.
landmarks-more = { $count ->
    [one] 1 weiterer Punkt steht auf der Karte.
   *[other] { $count } weitere Punkte stehen auf der Karte.
 }
landmarks-nearest-ramp = { $named ->
    [yes] Die nächste Slipanlage, { $name }, liegt { $away } entfernt, Richtung { $way } (Luftlinie).
   *[no] Die nächste Slipanlage liegt { $away } entfernt, Richtung { $way } (Luftlinie).
 }
landmarks-marked-caution =
    Gefahrenstellen sind verzeichnet, soweit die Crew sie kannte. Auch wo keine verzeichnet ist, kann eine sein:
    Sehen Sie hin, bevor Sie Fahrt aufnehmen.
landmarks-unmarked-caution =
    Die Crew hat keine Gefahrenstellen gemeldet, daher ist keine verzeichnet. Das heißt nicht, dass es keine gibt.
landmarks-alt = Verzeichnet: { $names }.
landmarks-alt-one = { $named ->
    [yes] { landmarks-kind-small } { $name }
   *[no] { landmarks-kind-small }
 }
landmarks-title = Slipanlagen, Zugänge, Gefahrenstellen und Orte
landmarks-lead = { $count ->
    [one] 1 Punkt, den die Crew verzeichnet hat.
   *[other] { $count } Punkte, die die Crew verzeichnet hat, Gefahrenstellen zuerst.
 }
landmarks-none = Die Crew hat keine Slipanlagen, Gefahrenstellen oder Orte verzeichnet.
landmarks-on-water = auf dem Wasser
landmarks-on-land = an Land
landmarks-off = { $away } von der Uferlinie
landmarks-tile = Blatt { $tile }
landmarks-position = Position
landmarks-nearest = Am nächsten
landmarks-page = Seite { $number }, { $title }
landmarks-bank = Uferabschnitt { $reach }
