# Die Ausgabe der Karte, mit der der Atlas ausgeliefert wird, stimmt nicht mit ihm überein.

chart-editions-differ = chart.edition: Die Karte ist Ausgabe { $chart }, der Atlas { $atlas }. Erwartet wird eine einzige Ausgabe.
    Berichtigen Sie survey.toml und bauen Sie neu.
chart-datums-differ = chart.datum: Die Tiefen der Karte zählen ab { $chart }, die des Atlas ab { $atlas }. Erwartet wird eine einzige
    Bezugshöhe. Berichtigen Sie survey.toml und bauen Sie neu.
chart-older-than-soundings = chart.date: Die Karte ist vom { $chart }, der Atlas enthält Lotungen bis { $soundings }. Erwartet wird eine Karte,
    die danach entstand. Berichtigen Sie survey.toml und bauen Sie neu.
