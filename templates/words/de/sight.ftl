# Was zwischen einer Kamera und dem Ufer liegt, auf das sie sieht

sight-across = über { $place } hinweg
sight-across-water = über das Wasser hinweg
