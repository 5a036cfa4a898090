# Kinds of problems, over the messages about single files.

problem-kind =
    { $code ->
        [not_an_image] not a photo atlasgen can read
        [damaged] the picture is cut short or damaged
        [too_large] the picture is larger than allowed
        [unreadable] the file could not be opened
        [duplicate] the same bytes as another photo
        [no_position] no position could be found
        [too_far] too far from the lake
        [excluded] left out by the crew
        [bad_metadata] metadata that cannot be right
        [no_time] no usable time
        [clock] camera clock disagrees
        [no_heading] direction unknown
        [ambiguous] can be read in more than one way
        [geometry] a shape that had to be repaired
        [bad_row] rows that could not be used
        [unusable] a file that could not be used
        [missing] an input that is not there
        [unused] an input that nothing refers to
        [no_stage] water level unknown
        [renumbered] reach ids carried on from the edition before
        [chart] the chart edition and the atlas do not agree
        [magnetic] outside the magnetic model's years
       *[other] { $code }
    }
