# How the water was surveyed, and pictures of the bed: what the scripts say.

script-cover-key = { $kind ->
        [twice] seen twice by side-scan,
        [fine] once, finely,
        [unknown] seen, how finely is not known,
        [coarse] coarsely,
        [not_surveyable] not surveyed for a reason,
        [depth_only] depths but no sonar picture,
       *[none] neither: there may be a hazard.
    }
script-cover-under = It lies over the textures: touch the water to read how it was surveyed, or choose no picture.
script-spot-title = This place in the water
script-spot-at = Latitude { $lat }°, longitude { $lon }°
script-spot-surveyed = How it was surveyed
script-spot-class = { $kind ->
        [twice] Two passes of the side-scan sonar saw this place.
        [fine] The side-scan sonar saw this place once, finely.
        [unknown] The side-scan sonar covered this place; how fine its picture is, is not known.
        [coarse] The side-scan sonar saw this place only coarsely: big things show, small ones may not.
        [not_surveyable] This place could not be surveyed.
        [depth_only] { $scan ->
            [yes] Depths were sounded here, but there is no sonar picture.
           *[no] Depths were sounded here. The survey has no side-scan, so there is no picture of the bed.
        }
       *[none] { $scan ->
            [yes] Neither depths nor a sonar picture are known here. Take it that there may be a hazard.
           *[no] No depths are known here. Take it that there may be a hazard.
        }
    }
script-spot-why = On record: { $why }.
script-spot-near = A sounding lies within { $distance }.
script-spot-how-deep = How deep
script-spot-depth = About { $depth } below { $level }; by how much that may be out is not known. Not for navigation.
script-spot-depth-bound = About { $depth } below { $level }, give or take { $bound }. Not for navigation.
script-spot-depth-unknown = The depth here is not known.
script-spot-dry = Dry at that level.
script-spot-bank = The nearest bank: reach { $reach }, { $name }, { $distance } off
script-spot-pictures = Pictures of this place
script-spot-shows = shows it

script-picture-none = No picture
script-picture-absent = { $kind ->
        [air-photo] no air photo here
        [satellite-image] no satellite image here
        [historic-chart] the old chart ends here
        [sonar-mosaic] no sonar picture here
       *[shaded-relief] no depths, so no relief here
    }
script-picture-now = Now shown: { $name }.
script-picture-partly = In part of this view: { $words }.
script-picture-nowhere = { $name } lies elsewhere.
script-picture-go = Go to it
script-picture-lost = Some of its files are missing on this device, so parts of it stay empty.
script-picture-percent = { $percent } %
script-picture-unknown = “{ $id }” in the address is no picture of this atlas. It is left out.
script-picture-no-strength = “{ $value }” in the address is no strength from 20 to 100. It is left out.
script-blink-to = to { $name }
