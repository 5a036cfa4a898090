# Ein Satz Fotos, an einer Stelle im Kreis aufgenommen, um eine Kompassrose.

compass-letters = N O S W
compass-not-photographed = kein Foto
compass-alt = Kompass, Norden oben, darum { $count } Fotos, jedes dort, wohin die Kamera sah: { $photographs }.
compass-whole-circle = Zusammen zeigen sie den ganzen Kreis.
compass-gaps = Ohne Foto, im Uhrzeigersinn: { $gaps }.
compass-gap = von { $start } bis { $end } ({ $degrees }°)
compass-and = und
