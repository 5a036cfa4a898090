"""Files with sentences: those still to be moved to templates/words, and those that no reader of an edition sees."""

# The list only shrinks.
TO_MOVE = {
    # measure
    # place
    # read
    # write
}

# Words for the crew on the command line, keys, words that files of others hold, names of formats, markup.
NOT_FOR_READERS = {
    "atlasgen/read/edition_shape.py",
    "atlasgen/read/gps.py",
    "atlasgen/read/landmarks.py",
    "atlasgen/read/layers.py",
    "atlasgen/read/nmea.py",
    "atlasgen/read/rasters.py",
    "atlasgen/read/sounding_rows.py",
    "atlasgen/read/survey.py",
    "atlasgen/read/tracks.py",
    "atlasgen/read/personal.py",
    # ship
    "atlasgen/ship/bundle.py",
    "atlasgen/ship/cargo.py",
    "atlasgen/ship/compare.py",
    "atlasgen/ship/holders.py",
    "atlasgen/ship/inlining.py",
    "atlasgen/ship/links.py",
    "atlasgen/ship/medium.py",
    "atlasgen/ship/placing.py",
    "atlasgen/ship/pocket.py",
    "atlasgen/ship/pocket_page.py",
    "atlasgen/ship/pocket_photos.py",
    "atlasgen/ship/portable.py",
    "atlasgen/ship/shrinking.py",
    "atlasgen/ship/signing.py",
    "atlasgen/ship/verify.py",
    # write
    "atlasgen/write/bed_picture_data.py",
    "atlasgen/write/bed_pictures.py",
    "atlasgen/write/layer_tiles.py",
    "atlasgen/write/book.py",
    "atlasgen/write/changes_report.py",
    "atlasgen/write/edition.py",
    "atlasgen/write/images.py",
    "atlasgen/write/pictures.py",
    "atlasgen/write/planfiles.py",
    "atlasgen/write/relief_picture.py",
    "atlasgen/write/starter.py",
    "atlasgen/write/svg.py",
    "atlasgen/write/webmap.py",
}
