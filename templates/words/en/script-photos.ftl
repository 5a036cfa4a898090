# The large photograph, its neighbours along the shore, and others of the same bank

script-photo-before = The photograph before along the shore
script-photo-after = The next photograph along the shore
script-photo-large = Fill the screen
script-looks = The camera looked { $degrees }° from north, clockwise.
script-looks-unknown = Which way the camera looked is not known.
script-beside-lay = Lay another of this bank beside it
script-beside-flip = The same bank on { $when }: flip the two
script-beside-apart = These two were not taken from one place: compare banks, not outlines.
script-pano = The set as a strip, by true heading
script-pano-words = Pull it round: the map looks the same way. Each photograph is cut where the next begins.
script-pano-gap = not photographed
script-pano-at = { $degrees }°, photo { $number }
script-pano-nothing = { $degrees }°, not photographed
script-pano-point = { $point ->
        [east] E
        [south] S
        [west] W
       *[north] N
    }
