# Das Uferband: das Ufer gerade gezogen.

strip-lane-air = aus der Luft
strip-lane-shore = von Ufer oder Boot
strip-lane-count = Zahl der Fotos
strip-lane-detail = feinstes, cm je Punkt
strip-lane-newest = neuestes Foto
strip-lane-depth = Tiefe bei { $distance }
strip-lane-sounded = nahe einer Lotung
strip-months = { $first } bis { $last }
strip-continued = { $ring }, Fortsetzung
strip-round = { $length } rundum

## In Worten

strip-chart = Uferband: { $length } Ufer, gerade gezogen; von links nach rechts zu lesen, mit dem Wasser zur rechten Hand. Es zeigt { $rings }.
strip-chart-part = Ein Teil des Uferbands: { $length } Ufer, gerade gezogen; von links nach rechts zu lesen, mit dem Wasser zur rechten Hand. Er zeigt { $rings }.
strip-ring = { $ring } von { $start } bis { $end }
strip-ring-plain = Uferlinie { $ring }
strip-rings-more = { $rings } und { $count } weitere Inseln
strip-all = Alle Fotos: { $shares }.
strip-aerial = Aus der Luft: { $shares }.
strip-shore = Von Ufer oder Boot: { $shares }.
strip-most = Höchstens { $count } Fotos zeigen dasselbe Ufer, das feinste mit { $gsd } cm je Bildpunkt.
strip-newest = Die jeweils neuesten sind von { $months }.
strip-gap = { $ring } { $start } bis { $end }
strip-gaps = Am längsten ohne Foto: { $gaps }.
