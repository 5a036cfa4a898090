# Das Feld, das einen Ort nach seinem Namen findet.

search-label = Ort, Slipanlage, Gefahrenstelle, Ufer oder Seite suchen
search-clear = Feld leeren
search-found = Gefunden
