# „Suchen“: wonach man bei den Ufern fragen kann. Jede Zeile ist ein Satz über ein Ufer: „Ufer ... mit Wasser von 6 bis 9 ft Tiefe“.

find-question = Suchen
find-title = Suchen
find-door = Einen Ort beim Namen suchen oder Ufer nach Tiefe, Wind und mehr
find-banks = Ufer
find-answers-label = Passende Ufer
find-answer-before = Das passende Ufer davor
find-answer-after = Das nächste passende Ufer
find-all-banks = Zurück zu allen Ufern
find-clear = Leeren
find-one-profile = Jedes Ufer wird nach dem einen Profil davor beurteilt, das den anderen am ähnlichsten ist; seine Seite sagt, wie sie sich unterscheiden.
find-key-fits = ist Ufer, das zu Ihrer Frage passt,
find-key-unknown = Ufer, von dem das nicht bekannt ist.
find-more = Mehr fragen: Relief, Richtung, Blatt, Fotos, Lotungen
find-list = Alle Seiten als Liste
find-no-depths = Zu dieser Vermessung wurden keine Tiefen geliefert, daher lässt sich bei den Ufern nicht nach Tiefen fragen.

find-depth = mit Wasser von { $from } bis { $to } { $unit } Tiefe höchstens { $within } vom Wasserrand
find-from = Wasser ab, { $unit }
find-to = Wasser bis, { $unit }
find-within = Höchstens so weit vom Wasserrand
find-break = Eine Kante im Grund in dieser Entfernung
find-breaks = { $code ->
    [any] mit einer Kante im Grund in dieser Nähe
    [steep] mit einer steilen Kante in dieser Nähe
    [very-steep] mit einer sehr steilen Kante in dieser Nähe
   *[all] mit oder ohne Kante im Grund
 }
find-slope = Wie der Grund abfällt
find-slopes = { $code ->
    [flat] fast eben auf den ersten { $over }
    [gentle] flach geneigt oder flacher auf den ersten { $over }
    [moderate] mäßig geneigt auf den ersten { $over }
    [steep] steil oder steiler auf den ersten { $over }
    [very-steep] sehr steil auf den ersten { $over }
   *[all] steil oder flach
 }
find-wind = Wind
find-winds = { $code ->
    [lee] windgeschützt bei { $way }wind
    [open] dem { $way }wind zugewandt
   *[all] bei jedem Wind
 }
find-wind-hint = Beurteilt wird nur, wohin das Ufer schaut: Der Wind kommt bis auf 45 Grad genau vom Land oder auf das Ufer zu. Bäume und Hügel zählen nicht.
find-relief-row = { $kind } höchstens { $near } vom Ufer
find-relief = Relief des Grundes in der Nähe
find-reliefs = { $code ->
    [hump] mit einer Kuppe
    [ridge] mit einem Rücken
    [hole] mit einem Loch
    [channel] mit einer Rinne
    [ledge] mit einem Absatz
    [any] mit irgendetwas davon: Kuppe, Rücken, Loch, Rinne, Absatz
   *[all] mit oder ohne Relief des Grundes
 }
find-near = Relief höchstens so weit vom Ufer
find-faces = Wohin das Ufer schaut
find-facing = { $code ->
    [all] in jede Richtung schauend
   *[one] nach { $way }en schauend
 }
find-tile = Blatt der Karte
find-tiles = { $code ->
    [all] auf jedem Blatt
   *[one] auf Blatt { $tile }
 }
find-shown = Welche Fotos es zeigen
find-showns = { $code ->
    [some] auf einem Foto zu sehen
    [air] aus der Luft zu sehen
    [shore] von Ufer oder Boot aus zu sehen
    [none] auf keinem Foto zu sehen
   *[all] auf einem Foto zu sehen oder nicht
 }
find-photographed = Wie gut fotografiert
find-photographs = { $code ->
    [well] gut fotografiert
    [poorly] mangelhaft fotografiert
    [near] nur mit einem Foto daneben
    [none] noch nicht fotografiert
   *[all] wie gut auch immer fotografiert
 }
find-sounded = Wie gut ausgelotet
find-soundeds = { $code ->
    [full] fast ganz ausgelotet (mehr als 90 %)
    [part] zur Hälfte oder mehr ausgelotet
    [little] zu weniger als der Hälfte ausgelotet
   *[all] wie gut auch immer ausgelotet
 }

find-example-depth = Ufer mit { $from } bis { $to } { $unit } Wasser höchstens { $within } entfernt
find-example-break = Ufer mit einer Kante im Grund, höchstens { $within } entfernt
find-example-lee = Windgeschützte Ufer bei { $way }wind
