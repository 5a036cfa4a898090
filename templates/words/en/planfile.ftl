# The field plan as files for instruments and other programs.

planfile-title = { $title }: field plan
planfile-run = Run { $run }
planfile-legs = Run { $run }, legs
planfile-station = camera station
planfile-station-beyond = camera station beyond one battery
planfile-beyond = Beyond one battery
planfile-heights-ground = Heights here count from the viewer's own ground, which over a lake may be the bed or an old level; the water's height above sea level is not known. Fly by the height above the water.
planfile-heights-sea = Heights here are above sea level, with the water at { $height } m.
planfile-check = Its height is { $check }.
