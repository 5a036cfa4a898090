# What "Where am I" says.

# Two letters: north and south.
script-earth-north-south = NS
# Two letters: east and west.
script-earth-east-west = EW
script-here-way = { $away } to the { $way } ({ $degrees }° true)
script-here-to-mark = To your mark { $name }
script-here-to-photo = To photo { $number } on page { $page }
script-here-to-bank = To the bank of reach { $id }
script-here-bank = Nearest bank, { $id }, { $name }
script-here-tile = Tile { $tile }.
script-here-no-tile = On none of the tiles.
script-here-depth = Depth on the map here: { $depth }.
script-here-within = { $position }, to within { $accuracy }
script-here-far = You are not at this lake.
script-here-following = Following the device.
script-here-asking = Asking the device …
script-here-tapped = The place that you tapped.
script-here-typed = The place that you typed.
script-here-stopped = Your place is no longer shown.
script-here-pick = Tap the place on the map. With the keyboard: move the map, and press Enter for its middle.
script-here-none = This browser tells no page where it is. Tap the map, or type your position.
script-here-insecure =
    Over plain http a browser tells no page where it is. Open the atlas from a file or over https, or tap the map, or
    type your position.
script-here-refused =
    The browser did not say where you are: location is switched off for this page or for this device. Allow it and try
    again, or tap the map, or type your position.
script-here-refused-file =
    The browser did not say where you are: location is switched off for this device, or this browser tells it to no page
    opened from a file. Tap the map, or type the position that your instrument shows.
script-here-unknown = The device does not know where it is just now. Tap the map, or type your position.
script-here-late = The device found no position within half a minute. Go where it sees the sky, or tap the map, or type your position.
script-here-wrong =
    That is no position. Type latitude first, then longitude: 31.5994 S 96.4002 W, or -31.5994, -96.4002, or 31° 35.964' S
    96° 24.012' W. Latitude goes to 90, longitude to 180, minutes to 59.
script-compass = { $point ->
    [north] north
    [north-east] north-east
    [east] east
    [south-east] south-east
    [south] south
    [south-west] south-west
    [west] west
   *[north-west] north-west
 }
# $level: the level that depths are told from.
script-depth-told = { $depth } below { $level }
