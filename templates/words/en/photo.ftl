# What single photographs say of themselves that cannot be right, and why one was left out.

photo-kind = { $kind ->
    [pdf] a PDF document
    [zip] a zip archive or office document
    [gif] a GIF picture
    [bmp] a BMP picture
    [layered] a layered editor document
    [jpeg-xl] a JPEG XL picture
    [raw] a camera raw file
    [sound] sound or film
    [archive] a compressed archive
    [xml] an XML text
    [svg] an SVG drawing
    [webp] a WebP picture
    [empty] an empty file
    [text] plain text
    [avif] an AVIF picture
    [heic] a HEIC picture
    [film] a film
    [jpeg] a JPEG picture
    [png] a PNG picture
    [tiff] a TIFF picture
   *[unknown] of no known type
 }
photo-it-is = it is { $kind }
photo-but = { $kind }, but { $fault }
photo-by-hand = { $what ->
    [position] Give its position in corrections.csv.
    [time] Give its time in corrections.csv, or let it be placed by position alone.
   *[heading] Give its heading in corrections.csv.
 }
photo-formats = JPEG, HEIC, PNG, TIFF, WebP or AVIF
photo-develop = Develop it to JPEG first.
photo-save-as-jpeg = Save it as JPEG, or take it out of the photos folder.
photo-at-most = at most { $megapixels } megapixels
photo-save-smaller = Save it smaller, or raise photos.largest_megapixels in survey.toml if it is a true photo.
photo-pixels = { $width } x { $height } pixels
photo-file-of = a file of { $megabytes } MB
photo-copy-again = Copy it again from the card.
photo-leave-or-save = Leave it out in corrections.csv, or save it anew as JPEG.
photo-a-photo = a photo
photo-a-photo-that-opens = a photo that opens
photo-a-photo-for-memory = a photo that can be read in the memory there is
photo-a-photo-take-away = a photo; take it away
photo-a-whole-picture = a whole picture
photo-a-folder = a folder that can be read
photo-a-name-in-utf8 = a name in UTF-8; rename it
photo-a-file-not-a-link = a file; copy the photo itself here
photo-folder-closed = the folder cannot be opened ({ $error })
photo-file-unread = the file cannot be read ({ $error })
photo-no-regular-file = no regular file
photo-name-not-utf8 = its name is not UTF-8
photo-link-nowhere = a link that leads nowhere
photo-link-out = a link that leads out of the photos folder
photo-pipe = not a regular file but a pipe or a device
photo-ends-before-size = it ends before the size of the picture
photo-no-size-tags = it has no tags for the size of the picture
photo-header-unread = its header cannot be read
photo-too-slow = it was not read within { $seconds } seconds
photo-worker-ended = the process that worked on this photo was ended from outside

photo-range = { $low } to { $high }
photo-range-not-used = { $low } to { $high }; the value was not used
photo-both = both
photo-missing = missing

# Positions and directions.
photo-position-zero = { $source } position 0, 0
photo-a-position-not-zero = a position; a camera without a fix writes 0, 0
photo-latitude = { $source } latitude { $degrees }°
photo-latitudes = -90 to 90; are latitude and longitude swapped?
photo-longitude = { $source } longitude { $degrees }°
photo-half-a-position = only one of GPSLatitude and GPSLongitude is filled
photo-rationals = degrees, minutes and seconds as rationals
photo-degrees-to-60 = degrees, then minutes and seconds up to 60
photo-angle-with = { $name } { $angle } with { $name }Ref { $ref }
photo-no-minus = { $plus } or { $minus }, no minus
photo-gps-status = { $file }: GPSStatus V, the receiver was not measuring. Expected A. The position may be an older one; compare it with
    its neighbours.
photo-gps-datum = { $file }: GPSMapDatum { $datum }. Expected WGS-84. The position is used as it stands and may be hundreds of metres
    off; give it in corrections.csv.
photo-altitude-refs = 0 to 3; the altitude was not used
photo-direction-refs = T (true) or M (magnetic)
photo-positions-apart = { $file }: EXIF and XMP positions lie { $apart } m apart. Expected at most { $most } m. EXIF is used; give the
    position in corrections.csv if XMP is right.
photo-xmp-not-used = the XMP packet was not used ({ $error })
photo-sound-xml = well-formed XML without entities
photo-xml-unsound = not well formed: { $error }
photo-xmp-degrees = degrees, or the form DDD,MM.mmk with k of N, S, E or W

# Times.
photo-a-date-such-as = a date and time such as 2026:06:01 14:05:09
photo-a-set-clock = a clock that has been set
photo-a-set-clock-not-restarted = a clock that has been set; this is the day clocks restart from
photo-a-date-that-exists = a date and time that exist
photo-seconds-to-60 = seconds up to 60
photo-an-offset-such-as = an offset such as +02:00
photo-an-offset-within = an offset between -14:00 and +14:00
photo-offset = offset from UTC { $offset }
photo-zone-from-survey = The camera's time zone is taken from survey.toml.
photo-gps-no-date = GPSTimeStamp without GPSDateStamp
photo-gps-time = GPS time { $day } { $time }
photo-camera-clock = The camera's clock is used instead.
photo-time-from = { $file }: time taken from { $tag }, { $time }. Expected DateTimeOriginal. A program may have changed it; compare it
    with its neighbours.
photo-time-from-xmp = { $file }: time taken from { $tag }, { $time }. Expected DateTimeOriginal in EXIF. A program may have changed it;
    compare it with its neighbours.

# The Exif block.
photo-exif-unread = the Exif block cannot be read
photo-a-tiff-header = a TIFF header, but { $fault }
photo-unknown-place-and-time = Its position and time are unknown.
photo-tags-outside = { $count ->
    [one] { $tags } lies outside the Exif block
   *[other] { $tags } lie outside the Exif block
 }
photo-values-inside = values inside it
photo-orientations = 1 to 8; the photo is shown as stored
photo-turn-it = Turn it and save it if it lies wrong.
