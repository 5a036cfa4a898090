# Eine Karte in Worten

map-size = etwa { $width } mal { $height }, Norden oben
map-locator =
    { $count ->
        [one] Karte des Uferabschnitts { $reaches }, { $size }.
       *[other] Karte der Uferabschnitte { $reaches }, { $size }.
    }
map-camera-on-reach = Kamera { $number } stand auf dem Uferabschnitt, { $looks }.
map-camera-off-reach = Kamera { $number } stand { $distance } entfernt im { $way }en, { $looks }.
map-looks = Blick nach { $way }en
map-looks-unknown = Richtung nicht bekannt
map-view-unknown = Was das Foto zeigt, ist nicht bekannt.
map-view-no-shore = Dass das Foto Ufer zeigt, ist nicht bekannt.
map-view-many = Das Foto zeigt { $length } Ufer, Teile von { $count } Uferabschnitten.
map-view =
    { $count ->
        [one] Das Foto zeigt { $length } Ufer, Uferabschnitt { $reaches }.
       *[other] Das Foto zeigt { $length } Ufer, Uferabschnitte { $reaches }.
    }
map-span = { $first } bis { $last }
map-no-lines = Keine Tiefenlinien auf dieser Karte.
map-one-line = Eine Tiefenlinie, bei { $depth }.
map-lines = Tiefenlinien von { $least } bis { $most }.
map-tile = Karte von Blatt { $tile }, { $size }. { $cameras }. { $lines }
map-tile-pages = Karte von Blatt { $tile }, { $size }. { $cameras }, auf { $pages }. { $lines }
map-cameras =
    { $count ->
        [0] Keine Kamera
        [one] { $count } Kamera
       *[other] { $count } Kameras
    }
map-overview = Karte des ganzen Sees, { $size }. { $cameras }.
map-overview-shore =
    { $count ->
        [one] Von { $count } Uferabschnitt: { $states }.
       *[other] Von { $count } Uferabschnitten: { $states }.
    }
map-overview-tile = { $tile }: { $pages }
map-overview-tiles = Blätter: { $tiles }.
map-sources = Wie { $area } Wasser vermessen wurden: { $lines }, { $passes }. { $left }
map-sounding-lines =
    { $count ->
        [0] keine Lotlinien
        [one] { $count } Lotlinie von { $length }
       *[other] { $count } Lotlinien von zusammen { $length }
    }
map-passes =
    { $count ->
        [0] keine Sonarfahrten
        [one] { $count } Sonarfahrt von { $length }
       *[other] { $count } Sonarfahrten von zusammen { $length }
    }
map-reason = { $reason } ({ $area })
map-reason-none = kein Grund angegeben ({ $area })
map-not-surveyed = Nicht vermessen: { $reasons }.
map-all-surveyed = Kein Teil ist als nicht vermessen markiert.
map-stage = Karte des ganzen Sees bei einem Wasserstand { $level }, Norden oben: { $area } Grund sind trockengefallen, der Rest ist höchstens { $depth } tief.
map-depth-not-known = Tiefe nicht bekannt
