# "Where am I": the reader's own place on the map.

here-title = Where am I
here-stop = Stop
here-type = Latitude and longitude
here-type-door = Type a position
here-show = Show
here-tap = Tap the map
here-mark = Mark this place
here-caution = Not for navigation. Stays on this device.
