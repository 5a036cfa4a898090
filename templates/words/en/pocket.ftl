# The pocket edition

pocket-title = The pocket edition
pocket-door = Pocket edition: what it holds, and what only the full atlas has
pocket-left-out = This photograph is only in the full atlas.
pocket-elsewhere = , in the full atlas
pocket-licence = Licence of the letters
pocket-what = This is the pocket edition of { $title }: one file that opens by itself, without a folder and without a network.
pocket-holds = It holds every page, note, table and drawing of the atlas, and { $count ->
        [one] { $photographs } photograph
       *[other] { $photographs } photographs
    }, at most { $pixels } pixels long.
pocket-full = Only the full atlas holds the photographs in their full size and the other files named at the end of { $place }.
pocket-gone = { $count ->
        [one] { $photographs } photograph is
       *[other] { $photographs } photographs are
    } left out to keep the file small: those that stand later on their page went first; each page keeps its first.
pocket-rounded = To keep the file small, lines of its drawings are rounded to a tenth of a millimetre.
pocket-no-pictures = The pictures of the bed that lie on the map (the shaded relief, and what the crew gave of air photos, charts and sonar) are only in the full atlas.
