# Der Plan für den nächsten Feldtag: Warnungen, Standorte, Flüge, und was übrig bleibt.

plan-proposal = Der Plan ist ein Vorschlag, keine Flugfreigabe.
plan-licence = Was, wo und wann geflogen werden darf, entscheiden die Erlaubnis der Crew und das örtliche Recht.
plan-keep-away = Halten Sie Abstand von Menschen, Booten, Vögeln und Wohnhäusern. Sind welche nahe einem Standort, lassen Sie ihn aus.
plan-legs = Die Wege sind gerade Linien. Der Plan kennt keine Bäume, Drähte, Masten oder Hügel und keinen Wind: Sehen Sie jeden Weg entlang, bevor Sie ihn fliegen, und behalten Sie die Drohne in Sicht, wie es die örtliche Regel verlangt.
plan-turn-back = Kehren Sie um, wenn der Akku sich seiner Reserve nähert, was auch immer der Plan sagt. Tragen Sie auf dem Wasser eine Rettungsweste.
-plan-published = 120 m oder 400 ft über Grund
plan-check = über { $limit } (die üblicherweise veröffentlichte Grenze ist { -plan-published }): prüfen Sie die örtliche Regel
plan-high =
    { $count ->
        [one] Standort { $stations } ist { $check }, bevor Sie dort fliegen.
       *[other] Die Standorte { $stations } sind { $check }, bevor Sie dort fliegen.
    }
plan-high-more = Die Standorte { $stations } und { $more } weitere sind { $check }, bevor Sie dort fliegen.
plan-not-high = Höhen zählen vom Wasser des Tages. Kein Standort liegt über { $limit } (die üblicherweise veröffentlichte Grenze ist { -plan-published }), die örtliche Regel kann aber niedriger sein: Prüfen Sie sie.

plan-station =
    { $held ->
        [level] { $height } über dem Wasser, Blick { $heading }° rechtweisend ({ $way }), Kamera waagerecht; zeigt { $shows } fehlendes Ufer aus { $distance }.
        [below] { $height } über dem Wasser, Blick { $heading }° rechtweisend ({ $way }), Kamera { $angle }° unter der Waagerechten; zeigt { $shows } fehlendes Ufer aus { $distance }.
       *[above] { $height } über dem Wasser, Blick { $heading }° rechtweisend ({ $way }), Kamera { $angle }° über der Waagerechten; zeigt { $shows } fehlendes Ufer aus { $distance }.
    }
plan-station-high = { $station } Seine Höhe ist { $check }.
plan-stations =
    { $count ->
        [one] { $count } Standort
       *[other] { $count } Standorte
    }
plan-run = { $stations }, { $length } gerade Wege, etwa { $time }, { $share } % eines Akkus; größte Entfernung ab { $launch } { $farthest }.
plan-run-over-land = { $stations }, { $length } gerade Wege, davon { $land } über Land, etwa { $time }, { $share } % eines Akkus; größte Entfernung ab { $launch } { $farthest }.

plan-reckoning-time = Zeit: { $speed } m/s auf den Wegen, { $station } s an jedem Standort, { $climb } s für Start, Steigen, Sinken und Landung. Ein Akku hält { $battery }, so die Annahme; davon bleiben { $reserve } % in Reserve.
plan-reckoning-camera = Kamera: { $across }° mal { $up }°, { $width } mal { $height } Bildpunkte. Ein Meter Ufer gilt als gezeigt, wenn ein Bildpunkt dort höchstens { $gsd } cm misst und die Sichtlinie das Ufer mit mindestens { $angle }° trifft.
plan-reckoning-error = Spielraum: Einem Standort wird nur angerechnet, was er noch zeigt, wenn er { $distance } danebenliegt, seine Richtung um { $heading }° und seine Neigung um { $pitch }° abweicht.

## Warum Ufer übrig bleibt

plan-why-no-station = in den geprüften Entfernungen kein Platz über dem Wasser
plan-why-hidden = von jedem geprüften Standort aus durch Land verdeckt
plan-why-coarse = nur gröber als die Grenze zu sehen
plan-why-slanting = nur schräger zum Ufer als die Grenze zu sehen
plan-why-beyond = nur von Standorten zu sehen, die weiter liegen, als ein Akku vom Startpunkt und zurück reicht

## Seine Karten

plan-key-shore = Ufer, das fotografiert werden soll
plan-key-leg = Weg
plan-key-station = Standort, nummeriert wie in der Tabelle, und wohin er blickt
plan-key-shown = Ufer, das die Flüge zeigen
plan-key-station-run = Standort, mit der Nummer seines Flugs
plan-key-left = fehlendes Ufer, das übrig bleibt
plan-map-station = Standort { $number } liegt { $leg } weiter, Blick nach { $way }en.
plan-leg = { $distance } nach { $way }en
plan-map-run = Karte von Flug { $run } ab { $launch }, Norden oben. { $stations }
plan-map-first = Flug { $run }: { $stations }, { $leg } ab { $launch } bis zum ersten.
plan-map = Karte des ganzen Sees mit { $count } Flügen, Norden oben. { $runs }
plan-map-left = { $map } { $length } fehlendes Ufer bleiben übrig.
