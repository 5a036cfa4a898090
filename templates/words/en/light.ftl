# The light that the web atlas is read in, and what the key says where there are no tints.

light-control = Light
light-asked = The light you read in
light-device = As the device says
light-paper = Paper
light-dark = Dark
light-sunlight = Sunlight, black on white
light-no-tints = In this light depths have no tints: lines and their figures say how deep it is.
