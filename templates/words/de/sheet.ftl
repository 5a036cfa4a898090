# The field sheet: what its template prints. An id is the path of a word there: sheet-runs-title is words.runs.title.

sheet-title = Feldplan

sheet-kind = Feldplan

sheet-proposal = Der Plan ist ein Vorschlag, keine Flugfreigabe.

sheet-run = Flug

sheet-of = von { $count }

sheet-runs-title = Flüge
sheet-runs-columns-1 = Flug
sheet-runs-columns-2 = Standorte
sheet-runs-columns-3 = Weg
sheet-runs-columns-4 = Zeit
sheet-runs-columns-5 = vom Akku
sheet-runs-columns-6 = größte Entfernung
sheet-runs-columns-7 = über Land

sheet-beyond-title = Standorte außerhalb einer Akkuladung, in keinem Flug
sheet-beyond-columns-1 = Standort
sheet-beyond-columns-2 = Breite, Länge
sheet-beyond-columns-3 = vom Startpunkt
sheet-beyond-columns-4 = würde zeigen

sheet-left-title = Fehlendes Ufer, das dieser Plan nicht schließt
sheet-left-columns-1 = Länge
sheet-left-columns-2 = Stücke
sheet-left-columns-3 = warum
sheet-left-none = Keines: Die Flüge zeigen alles.

sheet-day-title = Der Tag
sheet-day-lines-1 = Datum
sheet-day-lines-2 = Crew
sheet-day-lines-3 = Fluggerät
sheet-day-lines-4 = Wasserstand
sheet-day-lines-5 = Wind
sheet-day-lines-6 = Erlaubnisse

sheet-cautions = Bevor geflogen wird

sheet-reckoning = Womit der Plan rechnet

sheet-before-1 = örtliche Regel geprüft
sheet-before-2 = Wind und Wetter
sheet-before-3 = Akku voll
sheet-before-4 = Beobachter benannt
sheet-before-5 = Kamerauhr richtig
sheet-before-6 = niemand darunter

sheet-stations-columns-1 = Nr.
sheet-stations-columns-2 = Breite, Länge
sheet-stations-columns-3 = Weg dorthin
sheet-stations-columns-4 = Höhe
sheet-stations-columns-5 = wahr
sheet-stations-columns-6 = magn.
sheet-stations-columns-7 = Neigung
sheet-stations-columns-8 = zeigt
sheet-stations-columns-9 = Abschnitte
sheet-stations-columns-10 = Bild Nr.
sheet-stations-note = Höhen zählen vom Wasser. Wahr und magnetisch: die Blickrichtung; einen Kompass stellt man nach der magnetischen. Neigung: Grad unter der Waagerechten. Weg: vom Standort davor.

sheet-after-1 = Start
sheet-after-2 = Landung
sheet-after-3 = Akku dann
sheet-after-4 = Wind
sheet-after-5 = Wasserstand
sheet-after-6 = Pilot

# What the program says on the sheet

sheet-edition = { $title }, Ausgabe { $edition }
sheet-nothing-missing = Kein Ufer fehlt: Es muss nichts geflogen werden.
sheet-nothing-flown = { $missing } Ufer sind noch nicht gut zu sehen, und kein Standort, der sich anfliegen lässt, würde etwas davon zeigen.
sheet-summary = { $stations ->
        [one] { $stations } Standort
       *[other] { $stations } Standorte
    } in { $runs ->
        [one] { $runs } Flug
       *[other] { $runs } Flügen
    } ab { $launch } { $stations ->
        [one] zeigt
       *[other] zeigen
    } { $claimed } der { $missing } Ufer, die noch nicht gut zu sehen sind.
sheet-summary-all = { $stations ->
        [one] { $stations } Standort
       *[other] { $stations } Standorte
    } in { $runs ->
        [one] { $runs } Flug
       *[other] { $runs } Flügen
    } ab { $launch } { $stations ->
        [one] zeigt
       *[other] zeigen
    } alle { $missing } Ufer, die noch nicht gut zu sehen sind.
sheet-bound-reached = Von den { $tried } geprüften Standorten käme keine Auswahl mit weniger aus.
sheet-bound = Von den { $tried } geprüften Standorten käme keine Auswahl mit weniger als { $least } aus.
sheet-no-variation = Die Missweisung des Kompasses ist nicht bekannt: Es gibt keine magnetischen Richtungen.
sheet-variation = Missweisung { $degrees }° { $side ->
        [east] Ost
       *[west] West
    } am Startpunkt ({ $model }, { $day }).
sheet-no-date = zu dessen Beginn, da kein Datum bekannt ist
sheet-over-land = { $distance } über Land
sheet-none-over-land = nichts vom Weg
sheet-facts = { $stations ->
        [one] { $stations } Standort
       *[other] { $stations } Standorte
    } ab { $launch } und zurück
sheet-about = etwa { $time }
sheet-launch = Startpunkt
sheet-share = { $percent } %
sheet-high = ! ist { $check }, bevor Sie dort fliegen.
sheet-point = { $point ->
        [north] N
        [east] O
        [south] S
       *[west] W
    }
