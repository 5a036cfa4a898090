# What changed between two editions, for the chapter, the report and the terminal.

changes-title = Changes since edition { $edition }
changes-editions = From edition { $old } to edition { $new }
changes-nothing = Nothing changed: the two editions say the same.
changes-nothing-nor-files = Nothing changed: the two editions say the same and their files are the same.
changes-nothing-said = Nothing changed in what the atlas says. Some of its files differ.
changes-totals = Photos: { $photos }. Banks newly shown: { $shown }, no longer shown: { $lost }. Depths that changed by more
    than their bounds leave open: { $depths }.
changes-photo-count = { $what ->
    [added] { $count } added
    [removed] { $count } removed
    [replaced] { $count } replaced
   *[moved] { $count } moved
 }
changes-photos-same = the same
changes-how = Reaches were compared bank by bank, by where they lie, whatever their ids.
changes-column-what = What
changes-column-changed = What changed
changes-column-page = Page
changes-more = And { $count } more; atlasgen compare lists them all.
changes-before = Before: { $sentence }
changes-now = Now: { $sentence }
changes-not-stated = not stated
changes-not-known = not known
changes-none = none
changes-unchanged = unchanged
changes-to = to
changes-tile = Tile { $tile }
changes-no-tile = no tile
changes-out = { $distance } out

# Facts that the survey states, and those of its layers and sources; what follows is their change.
changes-facts = What the survey says of itself
changes-fact = { $fact ->
    [edition] edition
    [title] title
    [season] season
    [crew] crew
    [language] language
    [datum] datum
    [depths_below] depths told below
    [units-depth] unit of depths
    [units-distance] unit of distances
    [time_zone] time zone
    [tile_scheme] tiles
    [chart-edition] chart edition
    [chart-date] date of the chart
   *[chart-datum] datum of the chart
 }
changes-value = { $value ->
    [feet] feet
    [metres] metres
    [metric] metric
    [imperial] imperial
    [en] English
    [de] German
   *[other] { $value }
 }
changes-parts = Layers and sources
changes-part = { $kind ->
    [layer] Layer { $name }
   *[source] Source { $name }
 }
changes-part-state = { $state ->
    [new] new
    [gone] gone
   *[changed] changed
 }
changes-part-fact = { $fact ->
    [title] title
    [kind] kind
    [date] date
    [stage_m] level, m
    [what] what
    [instrument] instrument
   *[dates] dates
 }

changes-not-compared = Not compared
changes-not-compared-lead = These say nothing of whether the lake changed.
changes-what-words = notes and captions
changes-why-words = the editions are written in two languages
changes-what-lines = the lines of the reaches
changes-why-lines = an older edition does not tell them; midpoint, length and direction were taken
changes-what-depths = depths
changes-why-levels = the older edition tells them below { $old }, the newer below { $new }
changes-level = { $below } (datum { $datum }, level { $level } m)
changes-what-soundings = the soundings off each bank
changes-what-coverage = coverage
changes-why-widths = the older edition takes the water within { $old } of the bank, the newer the water within { $new } of the bank
changes-why-near = the older edition takes near as within { $old }, the newer near as within { $new }
changes-what-untied = the depths off { $count ->
    [one] { $count } reach
   *[other] { $count } reaches
 }
changes-why-untied = one of the editions does not tie them to its datum
changes-what-unjudged = { $count ->
    [one] { $count } depth that differs
   *[other] { $count } depths that differ
 }
changes-why-unjudged = no bound is stated in one of the editions

# Photographs.
changes-photos-added = Photos added
changes-shows = shows { $reach }
changes-photos-removed = Photos removed
changes-was-on = was on page { $page }, { $reach }
changes-photos-replaced = Photos replaced
changes-in-place-of = in the place of { $file }
changes-because = { $because ->
    [same-name] other contents under the same name
   *[same-place-and-time] taken at the same place and time
 }
changes-photos-moved = Photos moved
changes-photos-moved-lead = The same pictures; where they were taken from or which way they look is told otherwise.
changes-stands-off = stands { $distance } off
changes-looks-farther = { $side ->
    [right] looks { $degrees }° farther right
   *[left] looks { $degrees }° farther left
 }
changes-direction = { $became ->
    [known-now] its direction is known now
   *[not-known-any-more] its direction is not known any more
 }
changes-now-with = now with { $new }, was with { $old }
changes-now-nearest = nearest to { $new }, was { $old }
changes-photos-renamed = Photos under another file name
changes-was-file = was { $file }
changes-captions = Captions that say something else
changes-left-out = Photos left out
changes-no-reason = no reason given
changes-not-left-out = not left out any more; was: { $why }
changes-other-reason = for another reason: { $why }

# Banks.
changes-reaches = { $kind ->
    [shown] Banks newly shown
    [lost] Banks no longer shown
   *[other] Banks shown otherwise
 }
changes-reaches-lead = { $kind ->
    [shown] No photo showed them before.
   *[lost] The older edition shows them.
 }
changes-state = { $state ->
    [well] shown well
    [poorly] shown poorly
    [near] not known to be shown
    [none] not shown
   *[cannot] cannot be shown
 }
changes-state-row = { $states }; { $old } → { $new } of its bank in photos
changes-state-row-same = { $states }; { $length } of its bank in photos, as before
changes-reaches-new = New reaches
changes-reaches-new-lead = No reach of the older edition is the same bank.
changes-reaches-retired = Retired reaches
changes-reaches-retired-lead = No reach of the newer edition is the same bank.
changes-reaches-renumbered = Reaches under another id
changes-was-reach = was { $old }; { $share } of it is the same bank
changes-reaches-redrawn = Reaches with another bank
changes-reaches-redrawn-lead = They kept their ids; the shore was redrawn.
changes-middle-off = its middle lies { $distance } off

# Depths and coverage.
changes-depth-tiles = Depths, by tile
changes-depth-tiles-lead = A depth counts as changed only if it differs by more than the bounds of both editions leave open. Each tile is
    told with its largest change; the changes follow, the largest first.
changes-depth-tile = { $count } of { $compared } depths changed; over all of them the median is { $median }; the largest at
    { $reach }, { $which }: { $change }
changes-depths = Depths, bank by bank
changes-depth = { $which }: { $depths }, { $change } (the bounds leave { $allowed } open)
changes-of-the-soundings = { $which ->
    [median] median of the soundings
   *[shallowest] shallowest of the soundings
 }
changes-deeper = { $height } deeper
changes-shallower = { $height } shallower
changes-depths-known = Depths known now, or not any more
changes-depths-known-lead = What was not known is no depth of nought.
changes-depth-known = { $depths }: was not known, is known now
changes-depth-unknown = { $depths }: was known, is not known now
changes-off-the-bank = the soundings off the bank
changes-coverage = How well surveyed, by tile
changes-coverage-lead = The share of the water off each bank that lies near a sounding, where it differs by a percent or more.
changes-coverage-tile = { $count ->
    [one] { $count } reach changed
   *[other] { $count } reaches changed
 }; the largest at { $reach }: { $shares }
changes-coverage-tile-median = { $count ->
    [one] { $count } reach changed
   *[other] { $count } reaches changed
 }, median { $median }; the largest at { $reach }: { $shares }

# The bed.
changes-features-new = New on the bed
changes-features-gone = No longer found on the bed
changes-features = On the bed, at another depth
changes-features-lead = By more than the bounds leave open.
changes-feature = { $depth }, at { $at }
changes-feature-off = { $depth } off { $reach }, at { $at }

# Pages, notes and files.
changes-pages = Pages
changes-page-new = new
changes-page-gone = gone; it was page { $page }
changes-were-pages = { $count ->
    [one] was { $pages }
   *[other] were { $pages }
 }
changes-notes = Notes that say something else
changes-notes-lead = Facts behind these sentences changed. A page or reach that has another number alone is not told here.
changes-program = Program
changes-files = Files of the edition
changes-files-lead = By size and SHA-256 in the manifests.
changes-inputs = Files of the survey
changes-inputs-lead = What the editions were built from.
changes-file = { $what ->
    [added] added
    [removed] removed
   *[altered] altered
 }
