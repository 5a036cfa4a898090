# Wie gut das Wasser vermessen ist.

cover-tap = Berühren Sie eine Stelle im Wasser: Dann steht da, wie gut sie vermessen ist.
