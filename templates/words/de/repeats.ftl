# Wiederholte Fotos: dasselbe Ufer noch einmal, an einem anderen Tag oder bei anderem Wasserstand

repeats-pair = { $when ->
        [earlier] Foto { $number } wiederholt ein früheres vom { $day }, aufgenommen { $apart } daneben: Foto { $other } auf Seite { $page }.
       *[later] Foto { $number } wurde am { $day } wiederholt, { $apart } daneben: Foto { $other } auf Seite { $page }.
    }
repeats-here = Die Fotos { $number } und { $other } zeigen dasselbe Ufer am { $day } und noch einmal am { $later }, { $apart } daneben.
repeats-fallen = Das Wasser stand da { $height } tiefer.
repeats-risen = Das Wasser stand da { $height } höher.
repeats-told = Standorte auf der Karte { $apart } auseinander, Richtungen { $turn }°; { $days ->
        [one] { $days } Tag
       *[other] { $days } Tage
    } dazwischen; beide zeigen { $shared } desselben Ufers.
repeats-limits = Zwei Fotos sind ein Paar, wenn sie höchstens { $most } auseinander aufgenommen wurden (näher, wo das Ufer nah ist), auf { $turn }° genau in dieselbe Richtung sehen und mindestens die Hälfte des gezeigten Ufers teilen, und wenn der Wasserstand um { $level } verschieden ist oder { $days } Tage dazwischenliegen.
repeats-tag = { $day }, { $level }
repeats-tag-no-level = { $day }, Wasserstand nicht bekannt
repeats-former = Foto { $number } wiederholt eines der Ausgabe { $edition } vom { $day }, aufgenommen { $apart } daneben: dort Foto { $other } auf Seite { $page }.
repeats-former-level = Das Wasser stand da { $level }.
