# Was Buch und Bildschirm gemeinsam sagen: Warnungen, Lesehilfe, und wie Dinge aufgezählt werden.

words-pages =
    { $count ->
        [one] Seite { $pages }
       *[other] Seiten { $pages }
    }
words-full-supply-level = Stauziel
words-start-point = dem Startpunkt
words-web-tiles = WebMercatorQuad, Stufe { $zoom }
words-own-sheets = die eigenen Blätter der Crew
words-not-known = nicht bekannt
words-none-near = keine in der Nähe

## Warnungen

words-caution-navigation = Dieser Atlas ist nicht zur Navigation bestimmt. Er zeigt, was die Crew an den genannten Tagen gesehen und gemessen hat, und nicht mehr.
words-caution-level = Der Wasserstand ändert sich. Die Tiefen in diesem Atlas zählen ab der Bezugshöhe; ziehen Sie ab, um wie viel der See heute abgesenkt ist. Wo dieser Atlas sagt, dass etwas nicht bekannt ist, müssen Sie mit einer Gefahrenstelle rechnen.
words-caution-between = Zwischen den Lotungen wurde der Grund nicht gemessen. Baumstümpfe, Felsen, Draht und neue Bänke können auch dort stehen, wo die Karte glatt ist.
words-caution-boat = Tragen Sie eine Rettungsweste, sehen Sie hin, bevor Sie losfahren, und halten Sie Abstand von Staumauern, Überläufen, Schwimmern und brütenden Vögeln.
words-caution-photographs = Fotos zeigen das Ufer an dem Tag, an dem sie entstanden. Pflanzen wachsen, Ufer rutschen ab, Slipanlagen werden gesperrt.
words-caution-drone = Wenn Sie eine Drohne fliegen, entscheiden die Regeln des Ortes und Ihre Erlaubnis. Ein Luftbild in diesem Atlas heißt nicht, dass Sie dort fliegen dürfen.
words-caution-landing = Das Foto eines Ufers ist keine Erlaubnis, dort an Land zu gehen. Achten Sie Privatgrund und gesperrte Gewässer.

## Wie man eine Seite liest

# $start steht im Dativ: „dem Startpunkt“.
words-read-reaches = Das Ufer ist in Abschnitte von etwa { $length } geteilt, gezählt ab { $start } mit dem Wasser zur rechten Hand, danach rund um jede Insel. Ein Foto steht auf der Seite des Uferabschnitts, den es am besten zeigt; wo nicht bekannt ist, was es zeigt, auf der des nächstgelegenen.
words-read-colours = Was zinnoberrot gedruckt ist, gehört zur Kamera: wo sie stand, wohin sie sah und zu welchem Uferabschnitt das Foto gehört. Was blaugrün gedruckt ist, gehört zum Wasser.
words-read-cameras = Ein Punkt mit Zeiger ist eine Kamera, deren Blickrichtung bekannt ist; ein Punkt mit Fragezeichen eine, deren Richtung nicht bekannt ist. Die Zahl am Punkt ist die Zahl unter dem Foto. Das getönte Wasser ist das, was im Bild liegt, und die feine Linie hinter dem Ufer ist das Ufer, das es zeigt.
words-read-depths =
    { $unit ->
        [feet] Tiefen stehen in Fuß unter { $level }, gerundet zum Flacheren. Die Angaben zur Tiefe gelten für das Wasser bis { $within } vor dem Ufer.
       *[metres] Tiefen stehen in Metern unter { $level }, gerundet zum Flacheren. Die Angaben zur Tiefe gelten für das Wasser bis { $within } vor dem Ufer.
    }
words-read-coverage = „Wie gut vermessen“ sagt, wie viel von diesem Wasser nahe einer Lotung und in einem Bild des Seitensicht-Sonars liegt, und warum der Rest nicht. Wo nichts bekannt ist, sagt die Seite es.
words-read-bounds = Eine Tiefe zwischen Lotungen ist berechnet, nicht gemessen. Ihre Schranke sagt, wie weit sie danebenliegen kann: An 95 von 100 solchen Stellen liegt der Grund innerhalb der Schranke. Eine unterbrochene Tiefenlinie ist zweifelhaft. { $slopes } Eine Kante wird nur genannt, wo der Grund um die Hälfte steiler abfällt als zu beiden Seiten, und um mehr als die Schranke.
words-slopes = Ein Gefälle gilt für die ersten 20 m vom Ufer: { $slopes }, darüber hinaus sehr steil.
words-slope-to = { $slope } bis { $limit }

## Gefälle

words-slope-name =
    { $slope ->
        [nearly-flat] fast eben
        [gentle] flach geneigt
        [moderate] mäßig geneigt
        [steep] steil
       *[very-steep] sehr steil
    }
words-slope-one-in = 1:{ $run }
