# The pocket edition

pocket-title = Die Taschenausgabe
pocket-door = Taschenausgabe: was sie enthält und was nur der ganze Atlas hat
pocket-left-out = Dieses Foto steht nur im ganzen Atlas.
pocket-elsewhere = , im ganzen Atlas
pocket-licence = Lizenz der Schrift
pocket-what = Dies ist die Taschenausgabe von { $title }: eine einzige Datei, die sich ohne Ordner und ohne Netz öffnen lässt.
pocket-holds = Sie enthält jede Seite, Anmerkung, Tabelle und Zeichnung des Atlas und { $count ->
        [one] { $photographs } Foto
       *[other] { $photographs } Fotos
    }, höchstens { $pixels } Bildpunkte lang.
pocket-full = Nur der ganze Atlas enthält die Fotos in voller Größe und die anderen Dateien, die am Ende von { $place } genannt sind.
pocket-gone = { $count ->
        [one] { $photographs } Foto ist
       *[other] { $photographs } Fotos sind
    } weggelassen, damit die Datei klein bleibt: zuerst die, die auf ihrer Seite weiter hinten stehen; jede Seite behält ihr erstes.
pocket-rounded = Damit die Datei klein bleibt, sind die Linien ihrer Zeichnungen auf ein Zehntel Millimeter gerundet.
pocket-no-pictures = Die Bilder vom Grund auf der Karte (die Schummerung und was die Crew an Luftbildern, Karten und Sonarbildern gegeben hat) stehen nur im vollen Atlas.
