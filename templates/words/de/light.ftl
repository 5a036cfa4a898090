# Das Licht, in dem der Webatlas gelesen wird, und was die Legende sagt, wo es keine Farbtöne gibt.

light-control = Licht
light-asked = Bei welchem Licht Sie lesen
light-device = Wie das Gerät
light-paper = Papier
light-dark = Dunkel
light-sunlight = Sonne, schwarz auf weiß
light-no-tints = Bei diesem Licht haben Tiefen keine Farbtöne: Linien und ihre Zahlen sagen, wie tief es ist.
