# Was die Skripte des Web-Atlas sagen.

script-last-page = Dies ist die letzte Seite.
script-first-page = Dies ist die erste Seite.
