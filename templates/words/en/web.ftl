# The offline atlas: its frame

web-title = { $title }, edition { $edition }
web-skip = Skip to the pages
web-views = Views
web-ask-there = What is there?
web-ask-deep = How deep?
web-ask-sure = How sure?
web-map = Map of the lake
web-closer = Closer
web-farther = Farther
web-whole-lake = Whole lake
web-key = Key
web-sheet-step = More or less of the page
web-close = Close
web-strip = The shore pulled straight
web-strip-slider = Place along the shore
web-strip-start = at the start

# The first page

web-start-title = The shore, photograph by photograph
web-start-lead = { $photos ->
        [one] { $photos } photograph
       *[other] { $photos } photographs
    } on { $pages ->
        [one] { $pages } page
       *[other] { $pages } pages
    }: { $shore } of shore around { $water } of water. { $share } of the shore is shown in a photograph.
web-start-surveyed = Surveyed { $season }.
web-start-surveyed-by = Surveyed { $season } by { $crew }.
web-start-how = Choose a dot, a stretch of bank or a square on the map. Or pull along the straightened shore below: the page follows. Left and right arrows turn the pages; Esc closes one.
web-start-begin = Begin at page { $page }, { $title }
web-start-list = All pages as a list
web-start-book = The book (PDF)
web-start-bare = { $count ->
        [one] { $count } stretch
       *[other] { $count } stretches
    } of shore without a page of their own
web-start-audit = How complete it is, and what was left out
web-start-cautions = Before you go out

# Tiles and pages

web-tile = Tile { $tile }
web-tile-link = tile { $tile }
web-tile-photos = { $photos ->
        [0] No photographs.
        [one] { $photos } photograph on { $pages ->
            [one] { $pages } page
           *[other] { $pages } pages
        }.
       *[other] { $photos } photographs on { $pages ->
            [one] { $pages } page
           *[other] { $pages } pages
        }.
    }
web-tile-shore = { $shore } of shore, { $share } of it shown in a photograph.
web-tile-open = Open water.
web-photo = Photo { $number }: { $words }
web-photo-how = How we know where this was
web-along = Along the shore from page { $page }
web-page = page { $page }

# Shore without a page

web-bare-title = Shore without a page of its own
web-bare-lead = { $count ->
        [0] Every stretch of shore is on a page.
        [one] { $count } stretch of bank on no page, in the order of the shore.
       *[other] { $count } stretches of bank on no page, in the order of the shore.
    }
web-bare-near = Nearest pages
web-bare-page = Page { $page }, { $title }
web-bare-back = { $distance } back along the shore
web-bare-on = { $distance } further along the shore
web-bare-across = { $distance } away across the water
web-bare-subtitle = reach { $reach }, { $distance } from { $start }
web-bare-subtitle-start = reach { $reach }, at { $start }
web-bare-island-start = the start point of { $island }
web-bare-island = the island
web-bare-photographs = Photographs
web-bare-no-photograph = No photograph of this stretch is in the atlas.
web-bare-depth = Depth
web-bare-coverage = How well surveyed
web-bare-unsounded = Nobody has sounded the water off this bank: its depth is not known.
web-bare-soundings = { $count ->
        [one] Within { $distance } of this bank { $count } sounding was taken.
       *[other] Within { $distance } of this bank { $count } soundings were taken.
    }
web-bare-range = The shallowest is { $shallow }, the deepest { $deep } below { $level }.
web-bare-day-level = the water on the day
web-bare-not-reduced = These depths are not corrected for the water level of the day.
web-bare-closeness-unknown = How closely this water was sounded is not known.
web-bare-closeness = { $share } of this water is within { $distance } of a sounding.
web-bare-reasons = Not surveyed: { $reasons }.
web-view-unknown = it was not worked out
web-no-shore = no shore

# About this atlas

web-about = About this atlas
web-about-read = How to read this atlas
web-about-lake = The lake
web-about-sources = How each part was surveyed
web-about-methods = How it was worked out
web-about-complete = How complete it is
web-about-shown = { $share } of { $shore } of shore is shown in a photograph.
web-about-states = How well each bank is photographed
web-about-states-lead = Every metre of shore, coloured and patterned by what the photographs show of it. Figures stand beside the longest stretches without a photograph.
web-about-states-map = Map of the shore by how well it is photographed
web-about-strip = The shore pulled straight, part { $number }
web-about-tiles = Photographs and shore by tile
web-about-column-tile = Tile
web-about-column-photographs = Photographs
web-about-column-shore = Shore
web-about-column-shown = Shown
web-about-column-share = Share
web-about-problems = What was met on the way
web-about-files = The other files of this atlas
web-about-left-out = Photographs left out
web-about-none-left-out = None: every picture of the survey folder is in the atlas.
web-about-drawing = { $title }, drawing
web-about-colophon = Depths below { $level }. Tiles: { $scheme }. Not for navigation.
web-about-library = The map is drawn with Leaflet 1.9.4 (BSD licence, in its file).
web-about-letters = The letters are Source Sans Pro
web-file-book = The book, to print or to page through (PDF)
web-file-volume = The book, volume { $number } of { $count } (PDF)
web-file-reaches = Every stretch of shore and its photographs (table, CSV)
web-file-reshoot = Where to photograph next (waypoints, GPX)
web-file-geopackage = Stations, reaches and depth lines for a GIS (GeoPackage)
web-file-facts = Every fact of this atlas, machine-readable (JSON)

# The key: each clause follows its sign

web-key-photo = is where a camera stood; its tick shows where it looked.
web-key-well = is bank photographed well,
web-key-poorly = poorly.
web-key-near = is bank with a photograph taken beside it,
web-key-none = is bank with none yet.
web-key-choose = Choose a dot, a bank or a square
web-key-view = is what a photograph covers,
web-key-seen = the bank it shows
web-key-ramp = Pale is shallow, dark is deep; the darkest is deeper than
web-key-major = are depth lines, in { $unit ->
        [feet] feet
       *[metres] metres
    } below
web-key-blank = is water of unknown depth.
web-key-dry = is dry at that level.
web-key-lit = is water of the one depth asked for:
web-key-no-depths = No depths were supplied with this survey.
web-key-levels = Levels change: look before you run.
web-key-boat = is where the boat sounded,
web-key-near-share = Along the bank, the share of water sounded within { $distance }:
web-key-full = over 90 %,
web-key-part = half or more,
web-key-little = less.

# The level of the lake

web-level-set = How the lake stands today
web-level-lower = Lake lower
web-level-higher = Lake higher
web-level-height = The lake stands, { $unit ->
        [feet] feet
       *[metres] metres
    }
web-level-side = Below or above full
web-level-below = below full
web-level-above = above full
web-level-full = Full
web-lit-set = Only one depth
web-lit-shallower = Shallower
web-lit-deeper = Deeper
web-lit-from = From, { $unit ->
        [feet] feet
       *[metres] metres
    }
web-lit-to = To, { $unit ->
        [feet] feet
       *[metres] metres
    }
web-lit-between = to
web-lit-all = All
web-level-door = The lake today
web-lit-door = Only one depth
web-level-no-model = There is no depth model in this survey, so no other level of the water can be shown.
web-level-no-record = The depths are below the water of the survey day, and no record says how high it stood. So they cannot be told for today's level.
web-level-too-large = The depth model has { $cells } cells: too many for a page, so no other level can be shown here.

# The photograph on the whole screen, and two of one bank

web-viewer = The photograph, large
web-viewer-before = The photograph before along the shore
web-viewer-after = The next photograph along the shore
web-viewer-map = On the map
web-beside = Two photographs of this bank
web-beside-flip = In one place
web-beside-other = Show the other
web-beside-choose = Choose the second
