# „Wo bin ich?“: der eigene Standort auf der Karte.

here-title = Wo bin ich?
here-stop = Beenden
here-type = Breite und Länge
here-type-door = Position eingeben
here-show = Zeigen
here-tap = Auf die Karte tippen
here-mark = Diese Stelle merken
here-caution = Nicht zur Navigation. Bleibt auf diesem Gerät.
