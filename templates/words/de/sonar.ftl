# Seitensicht-Sonar: was wie gut erfasst wurde, und jede Lücke mit ihrer Ursache.

sonar-title = Seitensicht-Sonar und seine Lücken
sonar-lead = Das Seitensicht-Sonar macht zu beiden Seiten des Bootes ein Bild vom Grund. Wo ein Bild fehlt, steht hier der Grund dafür, wie
    ihn die Aufzeichnungen nennen. Ein leerer Streifen ist kein Fehler Ihres Bildschirms, und leer heißt nicht, dass dort nichts ist.
sonar-gaps = Die Lücken
sonar-no-gap = Im vermessenen Wasser gibt es keine Lücke, die größer ist als { $area }.
sonar-column-number = Nr.
sonar-column-where = Wo
sonar-column-cause = Ursache, Größe und Tiefen
sonar-column-pages = Seiten
sonar-lake-by-coverage = Der See, nach Erfassung
sonar-column-coverage = Erfassung
sonar-column-area = Fläche
sonar-column-share = Anteil am See
sonar-gap-where = vor { $reach }, bei { $at }

sonar-class = { $kind ->
    [twice] Seitensicht-Sonar zweimal
    [fine] Seitensicht-Sonar einmal, fein
    [unknown] Seitensicht-Sonar, Feinheit nicht bekannt
    [coarse] Seitensicht-Sonar, grob
    [not_surveyable] nicht zu vermessen, Grund angegeben
    [depth_only] nur Tiefen, kein Bild
   *[none] weder Tiefen noch Bild
 }
sonar-map-alt = Karte des ganzen Sees nach Erfassung durch das Seitensicht-Sonar, Norden oben: { $classes }.
sonar-map-gaps = { $count ->
    [one] { $count } Lücke steht in der Tabelle.
   *[other] { $count } Lücken stehen in der Tabelle.
 }

sonar-none-supplied = Fahrten mit dem Seitensicht-Sonar liegen nicht vor, über ein Sonarbild ist hier also nichts bekannt.
sonar-depths = Für { $depth } des Wassers bis { $distance } vor diesem Ufer ist die Tiefe bekannt
sonar-depths-none = Für das Wasser bis { $distance } vor diesem Ufer ist keine Tiefe bekannt
sonar-head-no-picture = { $head }, ein Sonarbild gibt es nicht.
sonar-head-picture = { $head }, für { $share } gibt es ein Sonarbild, { $how }.
sonar-head-pictures = { $head }, für { $share } gibt es ein Sonarbild: { $how }.
sonar-seen = { $kind ->
    [twice] auf zwei Fahrten erfasst
    [fine] einmal erfasst
    [unknown] von unbekannter Güte
   *[coarse] grob
 }
sonar-share-seen = { $share } { sonar-seen }
sonar-near = Bis { $distance } vor dem Ufer gibt es für { $share } des Wassers ein Bild.
sonar-near-none = Bis { $distance } vor dem Ufer gibt es kein Bild.

sonar-missing = { $cause ->
    [under_boat] Im Streifen direkt unter dem Boot sieht ein Seitensicht-Sonar nichts; { $share } dieses Wassers liegen in einem solchen
        Streifen. So arbeitet das Gerät; es ist kein Fehler Ihres Bildschirms.
    [behind_land] { $share } dieses Wassers liegen vom Boot aus hinter Land oder einer Insel; dorthin konnte das Sonar nicht sehen.
    [fast_run] Auf { $share } dieses Wassers fuhr das Boot zu schnell für ein feines Bild. Große Dinge sind dort zu sehen, kleine vielleicht
        nicht.
    [pass_not_run] Auf { $share } dieses Wassers liegen zwei Fahrten zu weit auseinander, und dazwischen fuhr das Boot nicht.
    [beyond_limit] { $share } dieses Wassers liegen jenseits der Grenze der Sonarvermessung; Tiefen sind dort bekannt.
    [not_surveyed] Weder Lotungen noch Seitensicht-Sonar erreichen { $share } dieses Wassers, und die Aufzeichnungen nennen keinen Grund.
        Rechnen Sie dort mit einer Gefahrenstelle.
    [log_gap] Auf { $share } dieses Wassers hat das Protokoll des Bootes eine Pause; ob dort ein Bild aufgezeichnet wurde, ist nicht bekannt.
    [unknown_swath] Auf { $share } dieses Wassers wurde die Reichweite oder die Höhe des Sonars nicht aufgezeichnet, deshalb zählt dort kein
        Bild.
   *[not_recorded] Für { $share } dieses Wassers gibt es kein Bild, und die Aufzeichnungen sagen nicht, warum.
 }
sonar-missing-reason = { $share } nicht zu vermessen: { $why }.
sonar-lost = { $share } davon sind im Bild ein leerer Streifen: Dort ging die Aufzeichnung des Sonars verloren.
sonar-lost-when = { $share } davon sind im Bild ein leerer Streifen: Dort ging die Aufzeichnung des Sonars verloren ({ $sides }, Fahrt
    { $passes }, { $when }).
sonar-side = { $side ->
    [port] Backbord
   *[starboard] Steuerbord
 }
sonar-lost-why = Als Grund ist vermerkt: { $why }.
sonar-lost-depths = Die Tiefen dort sind gut; nur das Bild fehlt, und Ihr Bildschirm hat keinen Fehler.
sonar-lost-some-depths = Für { $share } davon gibt es trotzdem Tiefen. Ihr Bildschirm hat keinen Fehler.
sonar-times-unknown = zu nicht bekannter Zeit
sonar-times = am { $day } von { $start } bis { $end } Uhr
sonar-times-days = vom { $day }, { $start } Uhr, bis zum { $last }, { $end } Uhr

sonar-gap = { $cause }; { $area }, { $depths }
sonar-gap-depths = Tiefen durchweg bekannt
sonar-gap-no-depths = keine Tiefen
sonar-gap-some-depths = Tiefen für { $share } bekannt
sonar-a-pass = ohne Namen
sonar-gap-reason = nicht vermessen, Grund angegeben: { $why }
sonar-gap-lost = { $side ->
    [port] Backbord-Kanal der Fahrt { $run } { $when } ausgefallen
   *[starboard] Steuerbord-Kanal der Fahrt { $run } { $when } ausgefallen
 }
sonar-gap-lost-why = { sonar-gap-lost }, { $why }
sonar-gap-fast = nur grobes Bild: Fahrt { $run } war zu schnell für ihre Reichweite
sonar-gap-fast-pings = { sonar-gap-fast } ({ $pings } Pings je Meter)
sonar-gap-apart = Fahrt fehlt: Die Fahrten { $passes } liegen { $apart } auseinander und reichen zusammen { $reach } weit
sonar-gap-log = Protokoll der Fahrt { $run } mit Pause { $when }
sonar-gap-cause = { $cause ->
    [under_boat] Streifen direkt unter Fahrt { $run }
    [behind_land] von Fahrt { $run } aus hinter Land
    [unknown_swath] Reichweite oder Höhe der Fahrt { $run } nicht aufgezeichnet
    [beyond_limit] jenseits der Grenze der Sonarvermessung
    [not_surveyed] weder Lotungen noch Seitensicht-Sonar, kein Grund vermerkt
    [pass_not_run] Fahrt fehlt
   *[not_recorded] Ursache nicht vermerkt
 }
