# Photographs that could not be published.

image-unreadable = { $file }: Die Datei lässt sich nicht lesen ({ $why }). Erwartet war das Foto, das zuvor gelesen wurde.
image-changed = { $file }: Das Foto änderte sich, während der Atlas entstand. Erwartet war ein Foto, das bleibt, wie es ist. Bauen Sie den Atlas noch einmal.
image-damaged = { $file }: Das Bild ist abgeschnitten oder beschädigt ({ $why }). Erwartet war ein ganzes Bild. Kopieren Sie es noch einmal von der Karte, oder lassen Sie es weg.
