# Wie Fotos und Dateien heißen, deren Namen nicht genannt werden.

published-photo = Foto { $id }
published-left-out = weggelassene Datei { $number }
published-a-folder = ein Ordner mit Fotos
published-a-file = eine Datei
