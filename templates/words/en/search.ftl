# The box that finds a place by its name.

search-label = Find a place, ramp, hazard, bank or page
search-clear = Clear the box
search-found = What was found
