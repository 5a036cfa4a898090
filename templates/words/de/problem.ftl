# Kinds of problems, over the messages about single files.

problem-kind =
    { $code ->
        [not_an_image] kein Foto, das atlasgen lesen kann
        [damaged] das Bild ist abgeschnitten oder beschädigt
        [too_large] das Bild ist größer als erlaubt
        [unreadable] die Datei ließ sich nicht öffnen
        [duplicate] dieselben Bytes wie ein anderes Foto
        [no_position] keine Position zu finden
        [too_far] zu weit vom See entfernt
        [excluded] von der Crew weggelassen
        [bad_metadata] Metadaten, die nicht stimmen können
        [no_time] keine brauchbare Zeit
        [clock] die Kamerauhr weicht ab
        [no_heading] Blickrichtung nicht bekannt
        [ambiguous] lässt sich auf mehr als eine Weise lesen
        [geometry] eine Form, die ausgebessert werden musste
        [bad_row] Zeilen, die sich nicht verwenden ließen
        [unusable] eine Datei, die sich nicht verwenden ließ
        [missing] eine Eingabe, die fehlt
        [unused] eine Eingabe, auf die sich nichts bezieht
        [no_stage] Wasserstand nicht bekannt
        [renumbered] Kennungen von Uferabschnitten, aus der vorigen Ausgabe übernommen
        [chart] Kartenausgabe und Atlas passen nicht zusammen
        [magnetic] außerhalb der Jahre des Magnetfeldmodells
       *[other] { $code }
    }
