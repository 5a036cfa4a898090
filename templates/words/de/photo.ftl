# Was einzelne Fotos über sich sagen und nicht stimmen kann, und warum eines wegblieb.

photo-kind = { $kind ->
    [pdf] ein PDF-Dokument
    [zip] ein Zip-Archiv oder Office-Dokument
    [gif] ein GIF-Bild
    [bmp] ein BMP-Bild
    [layered] ein Dokument mit Ebenen
    [jpeg-xl] ein JPEG-XL-Bild
    [raw] eine Rohdatei der Kamera
    [sound] Ton oder Film
    [archive] ein gepacktes Archiv
    [xml] ein XML-Text
    [svg] eine SVG-Zeichnung
    [webp] ein WebP-Bild
    [empty] eine leere Datei
    [text] reiner Text
    [avif] ein AVIF-Bild
    [heic] ein HEIC-Bild
    [film] ein Film
    [jpeg] ein JPEG-Bild
    [png] ein PNG-Bild
    [tiff] ein TIFF-Bild
   *[unknown] von unbekannter Art
 }
photo-it-is = es ist { $kind }
photo-but = { $kind }, aber { $fault }
photo-by-hand = { $what ->
    [position] Geben Sie den Standort in corrections.csv an.
    [time] Geben Sie die Zeit in corrections.csv an, oder lassen Sie das Foto allein nach dem Standort einordnen.
   *[heading] Geben Sie die Blickrichtung in corrections.csv an.
 }
photo-formats = JPEG, HEIC, PNG, TIFF, WebP oder AVIF
photo-develop = Entwickeln Sie es zuerst zu JPEG.
photo-save-as-jpeg = Speichern Sie es als JPEG, oder nehmen Sie es aus dem Fotoordner.
photo-at-most = höchstens { $megapixels } Megapixel
photo-save-smaller = Speichern Sie es kleiner, oder setzen Sie photos.largest_megapixels in survey.toml herauf, wenn es ein echtes Foto ist.
photo-pixels = { $width } x { $height } Pixel
photo-file-of = eine Datei von { $megabytes } MB
photo-copy-again = Kopieren Sie es noch einmal von der Karte.
photo-leave-or-save = Lassen Sie es in corrections.csv weg, oder speichern Sie es neu als JPEG.
photo-a-photo = ein Foto
photo-a-photo-that-opens = ein Foto, das sich öffnen lässt
photo-a-photo-for-memory = ein Foto, für das der Speicher reicht
photo-a-photo-take-away = ein Foto; nehmen Sie dies weg
photo-a-whole-picture = ein vollständiges Bild
photo-a-folder = ein Ordner, der sich lesen lässt
photo-a-name-in-utf8 = ein Name in UTF-8; benennen Sie die Datei um
photo-a-file-not-a-link = eine Datei; kopieren Sie das Foto selbst hierher
photo-folder-closed = der Ordner lässt sich nicht öffnen ({ $error })
photo-file-unread = die Datei lässt sich nicht lesen ({ $error })
photo-no-regular-file = keine gewöhnliche Datei
photo-name-not-utf8 = der Name ist nicht in UTF-8
photo-link-nowhere = ein Verweis, der ins Leere führt
photo-link-out = ein Verweis, der aus dem Fotoordner hinausführt
photo-pipe = keine gewöhnliche Datei, sondern eine Pipe oder ein Gerät
photo-ends-before-size = es endet, bevor die Bildgröße steht
photo-no-size-tags = ihm fehlen die Angaben zur Bildgröße
photo-header-unread = sein Kopf lässt sich nicht lesen
photo-too-slow = es war nach { $seconds } Sekunden noch nicht gelesen
photo-worker-ended = der Prozess, der an diesem Foto arbeitete, wurde von außen beendet

photo-range = { $low } bis { $high }
photo-range-not-used = { $low } bis { $high }; der Wert wurde nicht verwendet
photo-both = beides
photo-missing = fehlt

photo-position-zero = { $source }-Standort 0, 0
photo-a-position-not-zero = ein Standort; ohne Empfang schreibt eine Kamera 0, 0
photo-latitude = { $source }-Breite { $degrees }°
photo-latitudes = -90 bis 90; sind Breite und Länge vertauscht?
photo-longitude = { $source }-Länge { $degrees }°
photo-half-a-position = von GPSLatitude und GPSLongitude ist nur eines ausgefüllt
photo-rationals = Grad, Minuten und Sekunden als Brüche
photo-degrees-to-60 = Grad, dann Minuten und Sekunden bis 60
photo-angle-with = { $name } { $angle } mit { $name }Ref { $ref }
photo-no-minus = { $plus } oder { $minus }, kein Minus
photo-gps-status = { $file }: GPSStatus V, der Empfänger hat nicht gemessen. Erwartet: A. Der Standort kann ein älterer sein; vergleichen Sie
    ihn mit den Nachbarn.
photo-gps-datum = { $file }: GPSMapDatum { $datum }. Erwartet: WGS-84. Der Standort ist so verwendet, wie er dasteht, und kann Hunderte Meter
    daneben liegen; geben Sie ihn in corrections.csv an.
photo-altitude-refs = 0 bis 3; die Höhe wurde nicht verwendet
photo-direction-refs = T (rechtweisend) oder M (magnetisch)
photo-positions-apart = { $file }: Die Standorte aus EXIF und XMP liegen { $apart } m auseinander. Erwartet: höchstens { $most } m. Verwendet wird
    EXIF; geben Sie den Standort in corrections.csv an, wenn XMP stimmt.
photo-xmp-not-used = das XMP-Paket wurde nicht verwendet ({ $error })
photo-sound-xml = wohlgeformtes XML ohne Entitäten
photo-xml-unsound = nicht wohlgeformt: { $error }
photo-xmp-degrees = Grad, oder die Form DDD,MM.mmk mit k aus N, S, E oder W

photo-a-date-such-as = Datum und Zeit wie 2026:06:01 14:05:09
photo-a-set-clock = eine Uhr, die gestellt ist
photo-a-set-clock-not-restarted = eine Uhr, die gestellt ist; an diesem Tag fangen ungestellte Uhren an
photo-a-date-that-exists = Datum und Zeit, die es gibt
photo-seconds-to-60 = Sekunden bis 60
photo-an-offset-such-as = eine Abweichung wie +02:00
photo-an-offset-within = eine Abweichung zwischen -14:00 und +14:00
photo-offset = Abweichung von UTC { $offset }
photo-zone-from-survey = Die Zeitzone der Kamera ist aus survey.toml genommen.
photo-gps-no-date = GPSTimeStamp ohne GPSDateStamp
photo-gps-time = GPS-Zeit { $day } { $time }
photo-camera-clock = Stattdessen gilt die Uhr der Kamera.
photo-time-from = { $file }: Zeit aus { $tag } genommen, { $time }. Erwartet: DateTimeOriginal. Ein Programm kann sie geändert haben; vergleichen
    Sie sie mit den Nachbarn.
photo-time-from-xmp = { $file }: Zeit aus { $tag } genommen, { $time }. Erwartet: DateTimeOriginal in EXIF. Ein Programm kann sie geändert haben;
    vergleichen Sie sie mit den Nachbarn.

photo-exif-unread = der Exif-Block lässt sich nicht lesen
photo-a-tiff-header = ein TIFF-Kopf, aber { $fault }
photo-unknown-place-and-time = Standort und Zeit sind deshalb nicht bekannt.
photo-tags-outside = { $count ->
    [one] { $tags } liegt außerhalb des Exif-Blocks
   *[other] { $tags } liegen außerhalb des Exif-Blocks
 }
photo-values-inside = Werte innerhalb
photo-orientations = 1 bis 8; das Foto ist gezeigt, wie es gespeichert ist
photo-turn-it = Drehen und speichern Sie es, wenn es falsch liegt.
