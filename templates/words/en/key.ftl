# Keys of the maps

key-dry = dry at the level shown
key-low-water = water's edge at low water
key-reach = this reach
key-shore-shown = shore shown
key-water-in-frame = water in frame
key-camera = camera
key-camera-page = camera, with the number of its page
key-tile = chart tile
key-soundings = soundings, one line for each run
key-pass = sonar pass
key-not-surveyed = not surveyed, with the reason
key-no-soundings = water without soundings
key-fallen-dry = fallen dry: { $area }
key-water-left = water, { $depth } deep at most
key-photo-limit = limit for a good photograph
key-depths-in =
    { $unit ->
        [feet] depths in feet
       *[metres] depths in metres
    }
