# Das Tiefenprofil vor einem Ufer, und Histogramme.

charts-datum = Bezugshöhe
charts-water-that-day = Wasser an diesem Tag
charts-bank = Ufer
charts-bound = Schranke 95 %
charts-break = Kante: { $depth } bei { $distance }
charts-not-known = nicht bekannt
