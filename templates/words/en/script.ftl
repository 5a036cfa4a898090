# What the atlas's scripts say

script-map = Map. North is up. Arrow keys move it, plus and minus zoom.
script-last-page = This is the last page.
script-first-page = This is the first page.
script-not-outlined = What it shows is not outlined: { $why }.
script-only-water = It shows no bank, only water.
script-shows = It shows { $distance } of bank{ $reaches ->
        [one] {""}
       *[other] {" "}on { $reaches } reaches
    }, outlined on the map.
script-shown-by-none = No photograph is known to show it.
script-shown-by = { $count ->
        [one] { $count } photograph shows it.
       *[other] { $count } photographs show it.
    }
script-shown-by-outlined = { $count ->
        [one] { $count } photograph shows it, outlined on the map.
       *[other] { $count } photographs show it, outlined on the map.
    }
script-best-first = Best first.
script-share-all = all of it
script-share-little = a little of it
script-share = { $percent } % of it
script-picture = Page { $page }, no. { $number }
script-picture-under = { $share }, { $distance } off
script-reach = Reach { $reach }, { $name }
script-banks = { $count ->
        [one] { $count } bank that it shows
       *[other] { $count } banks that it shows
    }
script-this-photograph = What this photograph shows
script-photographs-of = Photographs that show reach { $reach }
script-outline-all = Outline them all

script-told-page = Page { $page }. { $title }.
script-told-photograph = Photograph { $number } of { $count }.
script-told-reach = Reach { $reach }: { $words }
script-no-own-page = No page of its own.
script-whole-lake = The whole lake.
script-list = The list of all pages.

script-strip-photographs = photographs
script-strip-soundings = soundings
script-strip-depth = depth
script-strip-depth-off = depth { $distance } off
script-strip-island = island
script-strip-reach = reach { $reach }, { $name }, { $page }
script-strip-page = page { $page }
script-strip-no-own-page = no page of its own
script-strip-no-photograph = no photograph


# The level of the lake

script-length = { units-length }
script-at-full = { units-at-full }
script-below-full = { units-below-full }
script-above-full = { units-above-full }
script-dry = { units-dry }
script-standing = { page-depths-below }
script-old = The lines below are for the lake { $level }.
script-drawn = Drawn for the lake { $level }; today the water stands { $change }.
script-lower = { $height } lower
script-higher = { $height } higher
script-level-said = Depths for the lake { $level }, as you set it.
script-level-flooded = Ground that is flooded above full was not measured.
script-level-printed = Depths for the lake { $level }, as printed.
script-then-unknown = How high the water stood then is not known.
script-then-same = The water then: { $level }, as today.
script-then = The water then: { $level }, { $change } than today.
script-lit = { $from } to { script-length }
script-lit-key = { $band }. All else is grey.
script-lit-key-dry = { $band }. All else is grey, dotted where it is dry.
script-all-dry = All of it is dry at that level.
script-list-told = This list is told for the lake { $printed }, not for today's level that you set ({ $level }).
script-too-low = No depth of more than { $depth } is known: nothing would be left.
script-too-high = Higher than { $height } above full is not taken: the land there was not measured.
script-all-depths = all depths
script-lit-said = Only water { $band } deep is coloured on the map.
script-lit-all = All depths are shown.

# The address

script-address-unknown = The address asks for “{ $asked }”, which this atlas does not have.
script-address-no-level = “{ $asked }” in the address is no level. It is left out.
script-address-no-band = “{ $asked }” in the address is no depth band. It is left out.
