# Wie gut ein Ufer fotografiert ist

state-name =
    { $state ->
        [well] gut fotografiert
        [poorly] schlecht fotografiert
        [near] Kamera in der Nähe; zeigt dieses Ufer vielleicht nicht
        [cannot] nicht fotografierbar
       *[none] kein Foto
    }
state-share =
    { $state ->
        [well] { $share } gut fotografiert
        [poorly] { $share } schlecht fotografiert
        [near] { $share } nur mit einer Kamera in der Nähe
        [cannot] { $share } nicht fotografierbar
       *[none] { $share } ohne Foto
    }
state-count =
    { $state ->
        [well] { $count } gut fotografiert
        [poorly] { $count } schlecht fotografiert
        [near] { $count } mit einer Kamera in der Nähe, die dieses Ufer vielleicht nicht zeigt
        [cannot] { $count } nicht fotografierbar
       *[none] { $count } ohne Foto
    }
state-length = { $state }: { $length }, { $percent } %
state-length-said = { $state }, { $length }, { $percent } %
state-rules = Gut fotografiert: Ein Foto zeigt das Ufer mit höchstens { $gsd } cm je Bildpunkt, in einem Winkel von mindestens { $angle }° zum Verlauf des Ufers, und ist höchstens { $days } Tage älter als das neueste Foto. Schlecht: Fotos zeigen es, aber keines hält alle drei Grenzen ein.
state-failed =
    { $limit ->
        [gsd] { $length } zu grob abgebildet
        [angle] { $length } zu schräg gesehen
       *[age] { $length } auf zu alten Fotos
    }
state-failed-all = Vom schlecht fotografierten Ufer: { $parts }.
state-failed-several = Vom schlecht fotografierten Ufer: { $parts }; manches überschreitet mehr als eine Grenze.
state-reason = { $reason }, { $length }
state-reasons = Nicht fotografierbar, und nicht als Mangel gezählt: { $reasons }.
state-gap = { $length } ab { $start } entlang Uferlinie { $ring }
state-gaps = Am längsten ohne Foto: { $gaps }.
state-map = Karte des ganzen Sees, { $size }. { $length } Ufer: { $states }.
