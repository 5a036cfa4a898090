# Wie die Zahlen entstanden, und was für die Güte jeder Quelle zählt.

## Welche Lotungen verwendet sind

measure-cleaned = Von { $read } gelesenen Lotungen sind { $kept } verwendet; weggelassen: { $reasons }. { $list } führt sie auf.
measure-cleaned-all = Von { $read } gelesenen Lotungen sind { $kept } verwendet; keine wurde weggelassen.
measure-reason-count = { $reason } ({ $count })
measure-reason-copy = Ort und Tiefe wie bei einer anderen, zur selben oder ohne Zeit
measure-reason-spike = Ausreißer: steht allein unter seinen Nachbarn auf der Linie
measure-reason-land = an Land, mehr als { $metres } m außerhalb der Uferlinie
measure-reason-jump = Position springt schneller als { $speed } m/s
measure-reason-no-level = für ihre Zeit ist kein Wasserstand bekannt
measure-not-tested = Nicht geprüft auf { $tests }: in survey.toml abgeschaltet.
measure-or = { $one } oder { $other }
measure-test =
    { $test ->
        [duplicates] Dubletten
        [land] Orte an Land
        [jumps] springende Positionen
       *[spikes] Ausreißer
    }
measure-untimed = { $count } Lotungen haben keine Zeit; ihre Positionen wurden daher nicht auf Sprünge geprüft.
measure-fault-left-out = Lotungen: { $count } weggelassen ({ $reason }), die erste in { $where }, { $depth } m. Sehen Sie in { $list } nach.
measure-fault-left-out-half = Lotungen: { $count } weggelassen ({ $reason }), die erste in { $where }, { $depth } m. Sehen Sie in { $list } nach. Das ist mehr als die Hälfte: Stimmt soundings.crs?
measure-line = { $file }, Zeile { $row }
measure-no-soundings = Es liegen keine Lotungen vor.
measure-no-depth = Daher ist nirgends eine Tiefe angegeben.
measure-no-soundings-no-depth = Es liegen keine Lotungen vor, daher ist nirgends eine Tiefe angegeben.

## Von der aufgezeichneten Tiefe zur Tiefe unter der Bezugshöhe

measure-draught-surface = Die aufgezeichneten Tiefen zählen ab der Wasseroberfläche; kein Tiefgang wurde hinzugerechnet.
measure-draught-logs = { $words } Der Tiefgang, den ein Protokoll nennt, ist in seinen Tiefen schon enthalten: { $logs }.
measure-draught-log = { $file } ({ $draught } m)
measure-draught-added = Der Tiefgang des Schwingers von { $draught } m wurde hinzugerechnet.
measure-draught-none = Kein Tiefgang wurde hinzugerechnet: survey.toml nennt keinen.
measure-draught-not-lacking = Der Tiefgang des Schwingers von { $draught } m wurde nicht hinzugerechnet: keiner aufgezeichneten Tiefe fehlt er.
measure-draught-off = Der Tiefgang des Schwingers von { $draught } m wurde nicht hinzugerechnet: in survey.toml abgeschaltet.
measure-sound-off = Die Tiefen wurden nicht um die Schallgeschwindigkeit berichtigt: in survey.toml abgeschaltet.
measure-sound-unknown = Die Tiefen wurden nicht um die Schallgeschwindigkeit berichtigt: Die Wassertemperatur ist nicht angegeben.
measure-sound = Unterhalb des Schwingers wurden die Tiefen mit { $ratio } multipliziert: Süßwasser von { $temperature } °C leitet den Schall mit { $speed } m/s (Marczak 1997), das Echolot rechnet mit { $sounder } m/s.
measure-not-by-stage = die Tiefen gelten ab der Wasseroberfläche am Tag der Vermessung: Die Umrechnung nach dem Pegel ist in survey.toml abgeschaltet
measure-reduced =
    { $number ->
        [one] { $count } Lotung nach { $file } auf die Bezugshöhe umgerechnet
       *[other] { $count } Lotungen nach { $file } auf die Bezugshöhe umgerechnet
    }
measure-reduced-no-time = { $words }; { $count } ohne Zeit nicht für Tiefen verwendet
measure-reduced-outside = { $words }; { $count } außerhalb der Pegelaufzeichnung nicht für Tiefen verwendet
measure-unreduced-no-record = die Tiefen gelten ab der Wasseroberfläche am Tag der Vermessung, deren Höhe nicht bekannt ist: Es gibt keine Pegelaufzeichnung
measure-unreduced-no-time = die Tiefen gelten ab der Wasseroberfläche am Tag der Vermessung, deren Höhe nicht bekannt ist: Die Lotungen haben keine Zeiten, um den Pegel nachzuschlagen
measure-unreduced-outside = die Tiefen gelten ab der Wasseroberfläche am Tag der Vermessung, deren Höhe nicht bekannt ist: Die Pegelaufzeichnung deckt keine der Lotungen ab

## Woher ein Wasserstand bekannt ist

measure-the-record = der Pegelaufzeichnung
measure-level-no-record = keine Pegelaufzeichnung: der Wasserstand ist nicht bekannt
measure-level-no-time = keine Zeit: der Wasserstand ist nicht bekannt
measure-level-outside = außerhalb von { $file } ({ $first } bis { $last }): der Wasserstand ist nicht bekannt
measure-level-read = abgelesen am { $day }, in { $file }
measure-level-between = zwischen den Ablesungen vom { $before } und { $after } in { $file }
measure-level-many = Wasserstand bekannt für { $known } von { $count } Zeiten
measure-level-undated = kein Datum und kein Wasserstand dafür angegeben
measure-fault-levels = kein Wasserstand für { $count } Fotos ({ $files }): Sie entstanden außerhalb der Pegelaufzeichnung. Wasserstände werden nie über sie hinaus fortgeschrieben; ergänzen Sie je eine Ablesung davor und danach.
measure-and-others = { $files } und weitere

## Wo sich Lotlinien kreuzen

measure-no-crossings = Keine Lotlinien kreuzen sich; wie gut sich Tiefen wiederholen, wurde also nicht beobachtet.
measure-few-crossings =
    { $count ->
        [one] Lotlinien kreuzen sich nur { $count } Mal: zu wenig, um zu sagen, wie gut sich Tiefen wiederholen.
       *[other] Lotlinien kreuzen sich nur { $count } Mal: zu wenig, um zu sagen, wie gut sich Tiefen wiederholen.
    }
measure-crossings = Wo sich Lotlinien kreuzen ({ $count } Mal), weicht die Hälfte der Tiefenpaare um höchstens { $median } voneinander ab (quadratisches Mittel { $rms }, Mittel { $mean }). Ein Fehler, den alle Linien teilen, zeigt sich hier nicht; auf steilem Grund zählen auch Fehler der Position.
measure-crossings-most = Wo sich Lotlinien kreuzen ({ $count } Mal), weicht die Hälfte der Tiefenpaare um höchstens { $median } voneinander ab, 95 von 100 um höchstens { $most } (quadratisches Mittel { $rms }, Mittel { $mean }). Ein Fehler, den alle Linien teilen, zeigt sich hier nicht; auf steilem Grund zählen auch Fehler der Position.
measure-order-share = { $share } % bei { $order }
measure-orders = Verglichen mit der senkrechten Toleranz von IHO S-44 Ed 6.1.0, einer Norm für das Meer, mal der Wurzel aus 2 für den Unterschied zweier Lotungen: { $shares } der Kreuzungen liegen innerhalb, verlangt wären 95 %.

## Das Tiefenmodell

measure-model = Das Tiefenmodell hat Zellen von { $cell }: die mittlere Lotung (Median) jeder Zelle, durch Dreiecke verbunden mit der Uferlinie als Tiefe null beim Stauziel. Weiter als { $near } von einer Lotung ist keine Tiefe angegeben.
measure-model-unreduced = Das Tiefenmodell hat Zellen von { $cell }: die mittlere Lotung (Median) jeder Zelle, durch Dreiecke verbunden mit der Uferlinie als Tiefe null, obwohl der Wasserstand am Tag der Vermessung nicht bekannt ist. Weiter als { $near } von einer Lotung ist keine Tiefe angegeben.
measure-no-bound = Eine Fehlerschranke ist nicht angegeben: Dazu gehören mindestens { $lines } Lotlinien, um einige wegzulassen und zu sehen, wie weit die anderen danebenliegen, und { $soundings } Lotungen darauf.
measure-bound = Jede Tiefe hat eine Schranke, innerhalb derer sie 95 von 100 Mal liegen sollte. Sie wurde gefunden, indem ganze Lotlinien der Reihe nach weggelassen wurden ({ $lines } Linien, { $soundings } Lotungen): Sie wächst mit dem Abstand zur nächsten Lotung oder zum Ufer und mit der Unebenheit des Grundes. Von den weggelassenen Lotungen lagen { $inside } innerhalb einer Schranke, die an die anderen angepasst war. Die Hälfte des Modells ist auf { $median } genau; nach der Regel der National Map Accuracy Standards von 1947 trägt das Tiefenlinien alle { $interval }. Engere Linien zeigen die Form des Grundes, nicht seine genaue Tiefe.
measure-percent = { $percent } %
measure-unknown-amount = eine unbekannte Größe
measure-smoothed = Tiefenlinien sind um höchstens eine Viertelzelle geglättet, und nie über eine Lotung hinweg, die das Modell verwendet.
measure-smoothed-broken = Tiefenlinien sind um höchstens eine Viertelzelle geglättet, und nie über eine Lotung hinweg, die das Modell verwendet. Sie sind unterbrochen gezeichnet, wo die Schranke mehr als { $over } beträgt, den halben Abstand der kräftigen Linien.
measure-volumes = Rauminhalte sind Summen von Kegelstümpfen zwischen den Wasserflächen des Modells.
measure-volumes-unknown = Rauminhalte sind Summen von Kegelstümpfen zwischen den Wasserflächen des Modells. Auf { $share } des Sees ist die Tiefe nicht bekannt; dieses Wasser ist in keinem Rauminhalt enthalten.
measure-supplied-no-bound = Eine Fehlerschranke ist dafür nicht angegeben: Zu wenige Lotungen unter der Bezugshöhe liegen darauf, um zu vergleichen.
measure-supplied-bound = Von { $soundings } Lotungen, die daran nicht beteiligt waren, soweit bekannt, stimmen 95 von 100 auf { $bound } damit überein; das ist die Schranke jeder Tiefe.
measure-raster = Die Tiefen sind die des gelieferten Rasters { $file }, gelesen als { $reading }, in Zellen von { $cell }. Sie stehen anstelle eines Modells der Lotungen.
measure-contours = Die Tiefen sind die der gelieferten Tiefenlinien { $file }, gelesen als { $reading }, untereinander und mit der Uferlinie als Tiefe null durch Dreiecke verbunden, in Zellen von { $cell }. Wo nur eine Linie zur Hand ist, wie innerhalb der letzten Linie eines Beckens, ist ihre eigene Tiefe bis { $near } von ihr angegeben und weiter keine. Sie stehen anstelle eines Modells der Lotungen.
measure-within = Was eine Seite zu Tiefe und Vermessung sagt, gilt für das Wasser bis { $within } vor ihrem Uferabschnitt.
measure-shown = Jede Tiefe gilt für einen Wasserstand { $level }: beim Stauziel berechnet und von dort gezählt. Was höher liegt, ist dann trocken, soweit das Tiefenmodell reicht, und so gezeichnet und genannt. Entfernungen vom Ufer bleiben die von der Uferlinie beim Stauziel.
measure-shown-low = { $words } So niedrig war kein Stand der Pegelaufzeichnung.
measure-shown-high = { $words } So hoch war kein Stand der Pegelaufzeichnung.

## Wie gelieferte Tiefen gelesen wurden

measure-read-depths = Tiefen unter der Bezugshöhe
measure-read-heights = Höhen gegen die Bezugshöhe, darunter negativ
measure-read-elevations = Höhen des Grundes, die Bezugshöhe bei { $datum } m
measure-read-contours =
    { $unit ->
        [feet] Tiefen in Fuß
       *[metres] Tiefen in Metern
    }
measure-read-contours-negative =
    { $unit ->
        [feet] Tiefen in Fuß, unter der Bezugshöhe negativ
       *[metres] Tiefen in Metern, unter der Bezugshöhe negativ
    }
measure-read-contours-elevation =
    { $unit ->
        [feet] Höhen des Grundes in Fuß, die Bezugshöhe bei { $datum } m
       *[metres] Höhen des Grundes in Metern, die Bezugshöhe bei { $datum } m
    }

## Die Form des Grundes

measure-profiles =
    { $bound ->
        [yes] Das Profil eines Uferabschnitts ist von mehreren, die senkrecht zum Ufer gelegt sind, eines je 20 m, dasjenige, das am wenigsten von ihrem Median abweicht; eine Kante wird genannt, wo sie um die Hälfte steiler ist als der Grund zu beiden Seiten und höher als die 95-%-Schranke der Tiefen.
       *[no] Das Profil eines Uferabschnitts ist von mehreren, die senkrecht zum Ufer gelegt sind, eines je 20 m, dasjenige, das am wenigsten von ihrem Median abweicht; eine Kante wird genannt, wo sie um die Hälfte steiler ist als der Grund zu beiden Seiten und höher, als die Unruhe der Tiefen erklärt.
    }
measure-ring = { $inner } bis { $outer } m
measure-relief =
    { $bound ->
        [yes] Kuppen, Rücken, Löcher und Rinnen wurden mit dem bathymetrischen Positionsindex gesucht (Lundblad et al. 2006), gegen Ringe von { $rings }, Absätze nach ihrem Gefälle (Horn 1981). Was sich um weniger als das { $times }-Fache der 95-%-Schranke der Tiefen abhebt, auf weniger als { $cells } geloteten Zellen beruht, die sich selbst so abheben, oder am Rand des geloteten Wassers liegt, wird nicht genannt.
       *[no] Kuppen, Rücken, Löcher und Rinnen wurden mit dem bathymetrischen Positionsindex gesucht (Lundblad et al. 2006), gegen Ringe von { $rings }, Absätze nach ihrem Gefälle (Horn 1981). Was sich um weniger als das { $times }-Fache dessen abhebt, was die Unruhe der Tiefen erklärt, auf weniger als { $cells } geloteten Zellen beruht, die sich selbst so abheben, oder am Rand des geloteten Wassers liegt, wird nicht genannt.
    }

## Seitensicht-Sonar

measure-swath = Was ein Kanal des Seitensicht-Sonars sah, ist aus der Bootsspur, der eingestellten Reichweite und der Höhe des Sonars über dem Grund berechnet, für einen ebenen Grund; es endet, wo Land beginnt. Senkrecht nach unten, steiler als { $angle }° unter der Waagerechten, zeigt es keinen Grund.
measure-coarse = Ein Bild ist grob, wo weniger als { $pings } Schallimpulse einen Gegenstand von einem Meter Länge treffen.
measure-coarse-rate = Ein Bild ist grob, wo weniger als { $pings } Schallimpulse einen Gegenstand von einem Meter Länge treffen. Das Gerät sendet höchstens { $rate } Impulse in der Sekunde.
measure-speed-computed = Wo keine Geschwindigkeit aufgezeichnet ist, stammt sie aus Positionen und Zeiten.
measure-outline-only = Manche Abdeckung ist nur als Umriss geliefert; wie fein ihr Bild ist, ist nicht bekannt.
measure-outline-unnamed = Umriss ohne Namen
measure-height-modelled = Wo die Höhe des Sonars über dem Grund nicht aufgezeichnet ist, geben Tiefenmodell und Wasserstand sie an.
measure-height-unknown = An { $count } Positionen der Fahrt { $passes } sagt weder die Aufzeichnung noch das Tiefenmodell die Höhe des Sonars; dort ist kein Bild gezählt.

## Was für die Güte einer Quelle zählt

measure-outline-quality =
    { $quality ->
        [fine] nach Angabe fein
        [coarse] nach Angabe grob
       *[unknown] wie fein, ist nicht bekannt
    }
measure-pass-quality =
    { $quality ->
        [fine] fein: { $pings } Impulse auf einen Gegenstand von einem Meter
        [coarse] grob: { $pings } Impulse auf einen Gegenstand von einem Meter
        [partly] teils grob: { $pings } Impulse auf einen Gegenstand von einem Meter
       *[unknown] wie dicht die Impulse liegen, ist nicht bekannt
    }
measure-channel-lost =
    { $channel ->
        [port] Backbordkanal zeitweise ausgefallen
       *[starboard] Steuerbordkanal zeitweise ausgefallen
    }
measure-channel-lost-why =
    { $channel ->
        [port] Backbordkanal zeitweise ausgefallen: { $why }
       *[starboard] Steuerbordkanal zeitweise ausgefallen: { $why }
    }
measure-pauses = Pausen in der Aufzeichnung
measure-height-from-model = Höhe über dem Grund aus dem Tiefenmodell
measure-height-not-known = Höhe über dem Grund stellenweise nicht bekannt
measure-speed-from-positions = Geschwindigkeit aus Positionen
