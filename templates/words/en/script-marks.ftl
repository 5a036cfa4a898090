# What the marks say.

script-marks-take = Take it with me
script-marks-what = What to mark
script-marks-note = Note
script-marks-keep = Keep the mark
script-marks-see = See all marks
script-marks-kept = “{ $name }” is marked.
script-marks-too-many = There are { $most } marks already, which is the most. Remove some first.
script-marks-photo = Page { $page }, photo { $number }
script-marks-reach = Reach { $id }, { $name }
script-marks-place = Place { $number }
script-marks-nameless = Mark without a name
script-marks-stations = { $count ->
    [one] Put the camera's station into the file as well
   *[other] Put the { $count } camera stations into the file as well
 }
script-marks-kind = { $kind ->
    [reach] Bank
    [photo] Camera station
    [relief] On the bed
    [landmark] Landmark
   *[place] Place
 }
script-marks-tick = Take along: { $name }
script-marks-edit = Edit
script-marks-remove = Remove
script-marks-open = Open its page
script-marks-removed = “{ $name }” is removed.
script-marks-count = { $count ->
    [0] No marks.
    [one] 1 mark.
   *[other] { $count } marks.
 }
script-marks-chosen = { $others ->
    [0] { $marks ->
        [0] Nothing is ticked yet.
        [one] 1 mark is ticked.
       *[other] { $marks } marks are ticked.
     }
   *[other] { $marks ->
        [0] No mark is ticked; landmarks and stations: { $others }.
        [one] 1 mark is ticked; landmarks and stations: { $others }.
       *[other] { $marks } marks are ticked; landmarks and stations: { $others }.
     }
 }
# $why: blocked, full, damaged, newer or aside.
script-marks-store = { $why ->
    [blocked] This browser lets the atlas store nothing. Marks last until you close it: save them as a file.
    [full] The browser's store is full. What stood there is kept; new marks last until you close it: save them as a file.
    [damaged] The stored marks cannot be read, and there is no room to put them aside. They are left as they are; new marks last until you close the browser.
    [newer] The stored marks are of a newer edition. They are left as they are; new marks last until you close the browser.
   *[aside] Some stored marks could not be read. They were put aside in the browser's store, not deleted.
 }
# $why: large, entities, gpx, geojson, neither, empty or unreadable.
script-marks-refused = { $why ->
    [large] The file is larger than 5 MB. A file of marks is far smaller; nothing was brought in.
    [entities] The file declares a document type, which no GPX file needs; nothing was brought in.
    [gpx] The file is no sound GPX; nothing was brought in.
    [geojson] The file is no sound GeoJSON of features; nothing was brought in.
    [empty] The file holds no waypoints or points; nothing was brought in.
    [unreadable] The file cannot be read; nothing was brought in.
   *[neither] The file is neither GPX nor GeoJSON; nothing was brought in.
 }
script-marks-came = { $count ->
    [0] No new marks.
    [one] 1 mark was brought in.
   *[other] { $count } marks were brought in.
 }
script-marks-left = { $why ->
    [same] { $count } stood here already and were joined.
    [far] { $count } lie more than 10 km from this lake and were left out.
    [over] { $count } did not fit any more.
   *[bad] { $count } have no usable position and were left out.
 }
script-marks-file-caution = Not for navigation.
