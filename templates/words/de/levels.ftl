# Wie viel Wasser der See bei welchem Wasserstand hält.

levels-title = Wie viel Wasser bei welchem Stand
levels-column-level = Wasserstand
levels-column-area = Fläche
levels-column-volume = Inhalt
levels-column-share = Anteil am vollen Inhalt
levels-with-water = Wasserstand { $level }
levels-lowest-photo = Der niedrigste Wasserstand, bei dem ein Foto dieses Atlas entstand.
levels-left = Bei diesem Stand sind noch { $share } des Wassers im vollen See.
levels-holds = Bei voller Höhe ({ $datum }) bedeckt der See { $area } und hält, wo seine Tiefe bekannt ist, { $volume }: im Mittel
    { $mean } tief, höchstens { $most }.
levels-unknown = Für { $area }, { $share } des Sees, ist keine Tiefe bekannt; dort ist kein Inhalt gezählt, der See hält also mehr, als
    diese Tabelle sagt.
levels-shore = Sein Ufer ist mit { $shore } { $times }-mal so lang wie das eines runden Sees gleicher Fläche. Der Inhalt ist aus Schichten
    zwischen den Wasserständen summiert, jede ein Kegelstumpf; Werte zwischen den Zeilen dürfen Sie geradlinig dazwischen nehmen.
