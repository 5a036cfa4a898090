# The book: what its templates print. `words.json` beside them says which message goes where; facts go in while the
# pages are laid out, so no message here chooses by a fact.

book-cover-kind = Shore atlas
book-cover-edition = Edition { $edition }
book-cover-season = Season
book-cover-crew = Surveyed by
book-cover-datum = Depths below
book-cover-photographed = Photographed
book-cover-holds = Holds
book-cover-holds-text = { $photos } on { $pages }, { $shore } of shore

book-volume-name = Volume { $number } of { $count }
book-volume-holds = Pages { $from } to { $to }, tiles { $tiles }
book-volume-within = volume { $number } of { $count }
book-volume-elsewhere = volume { $number }
book-volume-last = in the last volume

book-count-photo-1 = photograph
book-count-photo-2 = photographs
book-count-page-1 = page
book-count-page-2 = pages
book-count-file-1 = file
book-count-file-2 = files
book-count-stretch-1 = stretch
book-count-stretch-2 = stretches

book-how-title = How to read this book
book-how-page = A page at a glance
book-how-page-alt = Sketch of a page: a large photograph across the top, a map and a depth profile below it on the left, the notes on the right. The numbers 1 to 6 mark the parts that are explained beside it.
book-how-page-alt-handheld = Sketch of two pages: on the first a photograph over a map, on the second a depth profile over the notes. The numbers 1 to 6 mark the parts that are explained below.
book-how-parts-1 = The plain name of the bank, then its reach. The tile of the chart stands at the outer edge; it leads to the map index.
book-how-parts-2 = The photograph, whole: never cropped and never stretched. Where a file has too few pixels, it is printed smaller.
book-how-parts-3 = Its number in vermilion, and one line: from where, looking where, how far off, when, and the water level then.
book-how-parts-4 = The map: where each camera stood, with its number, and the stretch of shore that the page is about.
book-how-parts-5 = The depth off the bank, from the water's edge outwards, where the soundings bear one.
book-how-parts-6 = The notes, in the order you would ask. Bold marks the one thing to remember.
book-how-signs = Signs on the maps
book-how-words = What the words mean

book-legend-shore = Shoreline at { $datum }, land above it
book-legend-reach = The stretch of shore that the page is about
book-legend-camera = A camera with the number of its photograph; the pointer shows where it looked, the tint the water in its frame
book-legend-seen = Shore that a photograph shows, with its number
book-legend-camera-unknown = A camera whose direction is not known
book-legend-isobath = Depth lines in { $depth_unit } below { $depths_below }, a fine and a heavier one
book-legend-depth = Depth tint: pale in the shallows, darker where it is deeper
book-legend-not-surveyed = Not surveyed; the reason is written there

book-cautions-title = Cautions

book-sources-title = How each part was surveyed
book-sources-lead = The source diagram shows what the depths rest on. Where it is blank, nothing was measured.
book-sources-methods = How the values were obtained
book-sources-no-methods = No method notes came with this edition.

book-index-title = Map index
book-index-tile = Tile
book-index-tile-title = Tile
book-index-map = map
book-index-on-tile = Pages along these banks
book-index-surveyed = How its water was surveyed
book-index-tiles-title = Tiles and their pages
book-index-tiles-lead = Each tile leads to its map, each number to its page. Maps have small roman numbers.
book-index-no-pages = no photographs
book-index-pages = pages
book-index-page = page

book-joins-north = north
book-joins-east = east
book-joins-south = south
book-joins-west = west

book-own-notes-title = Notes of your own
book-own-notes-lead = For what you find on the day: date, level, what the bank looked like.

book-contents-title = Contents
book-contents-pages = Pages along the shore
book-contents-front = Before the pages
book-contents-back = After the pages

book-page-tile = tile
book-page-edition = edition { $edition }
book-page-part = part { $part }
book-page-profile = Depth off the bank
book-page-no-profile = No depth model reaches this bank, so no profile is drawn.
book-page-low-dpi = A small file: printed at { $dpi } dots per inch.
book-page-cut = All of this caption is in the list of photographs, page { $page }.
book-page-carried = More notes on this bank are on page { $page }.
book-page-previous = page { $page }
book-page-next = page { $page }
book-page-along = along the shore
book-page-foot = not for navigation; levels change, look before you run

book-states-title = How well each bank is photographed
book-states-lead = Every metre of shore, coloured and patterned by what the photographs show of it. Figures stand beside the longest stretches without a photograph.

book-strip-title = The shore pulled straight
book-strip-lead = From the start point along the main shore, then round each island: what the photographs show, how fine and how new they are, how deep the water is 20 m off the bank, and how much of it lies near a sounding.

book-gaps-title = Shores without photographs
book-gaps-lead = No photograph shows more than half of any of these reaches, and none is tied to them. Distances are counted from { $start } with the water on the right hand, round each island from its own start.
book-gaps-none = Every reach of the shore has at least one photograph.
book-gaps-columns-1 = Where
book-gaps-columns-2 = Reaches
book-gaps-columns-3 = From
book-gaps-columns-4 = To
book-gaps-columns-5 = Length
book-gaps-columns-6 = Tile

book-photos-title = List of photographs
book-photos-lead = In the order of the pages. Times are { $zone }. Directions are degrees clockwise from true north.
book-photos-none = This edition holds no photographs.
book-photos-columns-1 = File
book-photos-columns-2 = Page
book-photos-columns-3 = Taken
book-photos-columns-4 = Position
book-photos-columns-5 = Direction
book-photos-number = no. { $number }
book-photos-unknown-time = not known
book-photos-unknown-direction = not known
book-photos-assumed = assumed
book-photos-caption = Full caption:

book-left-out-title = Files left out, and why
book-left-out-none = No file was left out.
book-left-out-columns-1 = File
book-left-out-columns-2 = Why
book-left-out-faults = Other inputs that could not be used

book-carried-title = Notes continued
book-carried-lead = These notes did not fit on their page.

book-colophon-title = Colophon
book-colophon-made = Laid out and drawn by atlasgen { $atlasgen } with typst { $typst } and pikepdf { $pikepdf }.
book-colophon-type = Set in Source Sans Pro, under the SIL Open Font License.
book-colophon-photos = The photographs stand in this file as they were prepared for the offline atlas, without a second compression and without their metadata. Each prints at { $dpi } dots per inch or better where its file has the pixels; where not, its caption says so.
book-colophon-photos-old = The photographs stand in this file as large as they are printed, at most { $display_dpi } dots per inch, so that a viewer with little memory can show them; the offline atlas has them larger. They carry no metadata.
book-colophon-standards = The file declares PDF/UA-1, for readers who hear the page, and PDF/A-2a, for archives.
book-colophon-standards-old = The file is made for old viewers: PDF 1.4, nothing see-through, and it declares PDF/A-1b, for archives.
book-colophon-lacking = The typeface lacks { $count } of the signs that stand in names or captions of this survey. Each is printed as ☐; the offline atlas shows them as they are.
book-colophon-projection = Maps are drawn in the projection of this lake; their corners are stored with them in degrees (WGS 84), so that a viewer can read positions off this file.
book-colophon-projection-name = Projection: { $crs }
book-colophon-tiles = Tiles: { $scheme }.
book-colophon-rules = Not for navigation. Local rules and licensed practice decide on the water and in the air.

book-outline-cover = Cover

# What the program says in the book.

book-depth-unit =
    { $unit ->
        [feet] feet
       *[metres] metres
    }
book-dates = { $first } to { $last }
book-banks = { $first } to { $last }
book-three-banks = { $first } to { $middle } to { $last }
book-sign =
    { $sign ->
        [shore] Sign on the maps: shore
        [reach] Sign on the maps: reach
        [camera] Sign on the maps: camera
        [camera_unknown] Sign on the maps: camera unknown
        [seen] Sign on the maps: seen
        [isobath] Sign on the maps: isobath
        [depth] Sign on the maps: depth
        [not_surveyed] Sign on the maps: not surveyed
       *[other] Sign on the maps: { $sign }
    }
