# What the atlas's scripts say

script-map = Karte. Norden ist oben. Die Pfeiltasten verschieben sie, Plus und Minus ändern den Maßstab.
script-last-page = Dies ist die letzte Seite.
script-first-page = Dies ist die erste Seite.
script-not-outlined = Was es zeigt, ist nicht umrissen: { $why }.
script-only-water = Es zeigt kein Ufer, nur Wasser.
script-shows = Es zeigt { $distance } Ufer{ $reaches ->
        [one] {""}
       *[other] {" "}auf { $reaches } Abschnitten
    }, auf der Karte umrissen.
script-shown-by-none = Kein Foto zeigt es, soweit bekannt.
script-shown-by = { $count ->
        [one] { $count } Foto zeigt es.
       *[other] { $count } Fotos zeigen es.
    }
script-shown-by-outlined = { $count ->
        [one] { $count } Foto zeigt es, auf der Karte umrissen.
       *[other] { $count } Fotos zeigen es, auf der Karte umrissen.
    }
script-best-first = Das beste zuerst.
script-share-all = ganz
script-share-little = ein wenig davon
script-share = { $percent } % davon
script-picture = Seite { $page }, Nr. { $number }
script-picture-under = { $share }, aus { $distance }
script-reach = Abschnitt { $reach }, { $name }
script-banks = { $count ->
        [one] { $count } Ufer, das es zeigt
       *[other] { $count } Ufer, die es zeigt
    }
script-this-photograph = Was dieses Foto zeigt
script-photographs-of = Fotos, die Uferabschnitt { $reach } zeigen
script-outline-all = Alle umreißen

script-told-page = Seite { $page }. { $title }.
script-told-photograph = Foto { $number } von { $count }.
script-told-reach = Uferabschnitt { $reach }: { $words }
script-no-own-page = Keine eigene Seite.
script-whole-lake = Der ganze See.
script-list = Die Liste aller Seiten.

script-strip-photographs = Fotos
script-strip-soundings = Lotungen
script-strip-depth = Tiefe
script-strip-depth-off = Tiefe in { $distance }
script-strip-island = Insel
script-strip-reach = Uferabschnitt { $reach }, { $name }, { $page }
script-strip-page = Seite { $page }
script-strip-no-own-page = keine eigene Seite
script-strip-no-photograph = kein Foto


# The level of the lake

script-length = { units-length }
script-at-full = { units-at-full }
script-below-full = { units-below-full }
script-above-full = { units-above-full }
script-dry = { units-dry }
script-standing = { page-depths-below }
script-old = Die Zeilen darunter gelten für diesen Wasserstand: { $level }.
script-drawn = Gezeichnet für diesen Wasserstand: { $level }. Heute steht das Wasser { $change }.
script-lower = { $height } tiefer
script-higher = { $height } höher
script-level-said = Tiefen für den Wasserstand, den Sie eingestellt haben: { $level }.
script-level-flooded = Grund, der über dem Stauziel überflutet wird, ist nicht vermessen.
script-level-printed = Tiefen wie gedruckt, für den Wasserstand: { $level }.
script-then-unknown = Wie hoch das Wasser damals stand, ist nicht bekannt.
script-then-same = Das Wasser damals: { $level }, wie heute.
script-then = Das Wasser damals: { $level }, { $change } als heute.
script-lit = { $from } bis { script-length }
script-lit-key = { $band }. Alles andere ist grau.
script-lit-key-dry = { $band }. Alles andere ist grau, gepunktet, wo es trocken liegt.
script-all-dry = Bei diesem Wasserstand liegt alles trocken.
script-list-told = Diese Liste gilt für den gedruckten Wasserstand ({ $printed }), nicht für den heutigen, den Sie eingestellt haben ({ $level }).
script-too-low = Tiefen über { $depth } sind nicht bekannt: Es bliebe kein Wasser.
script-too-high = Mehr als { $height } über Stauziel geht nicht: Das Land dort ist nicht vermessen.
script-all-depths = alle Tiefen
script-lit-said = Auf der Karte ist nur Wasser von { $band } Tiefe farbig.
script-lit-all = Alle Tiefen werden gezeigt.

# The address

script-address-unknown = Die Adresse fragt nach „{ $asked }“; das hat dieser Atlas nicht.
script-address-no-level = „{ $asked }“ in der Adresse ist kein Wasserstand und wird übergangen.
script-address-no-band = „{ $asked }“ in der Adresse ist kein Tiefenbereich und wird übergangen.
