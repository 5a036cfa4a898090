# Wie eine Seite heißt.

page-title = { $place }, { $bank }
# $start steht im Dativ: „dem Startpunkt“.
page-on-shore = Uferabschnitt { $reach }, { $distance } am Ufer entlang ab { $start }
page-on-island = Uferabschnitt { $reach }, Insel { $island }
page-part = { $where }, { $part } von { $parts }
page-turned = { $where }, rundum von einer Stelle aufgenommen
# Steht im Dativ, hinter „unter“ und „bei“.
page-depths-below = dem Wasserspiegel { $level }
page-level-name = Wasserspiegel { $level }
