# The field sheet: what its template prints. An id is the path of a word there: sheet-runs-title is words.runs.title.
sheet-title = Field plan

sheet-kind = field plan

sheet-proposal = The plan is a proposal, not a flight clearance.

sheet-run = Run

sheet-of = of { $count }

sheet-runs-title = Runs
sheet-runs-columns-1 = run
sheet-runs-columns-2 = stations
sheet-runs-columns-3 = way
sheet-runs-columns-4 = time
sheet-runs-columns-5 = of a battery
sheet-runs-columns-6 = farthest off
sheet-runs-columns-7 = over land

sheet-beyond-title = Stations beyond one battery, in no run
sheet-beyond-columns-1 = station
sheet-beyond-columns-2 = latitude, longitude
sheet-beyond-columns-3 = from launch
sheet-beyond-columns-4 = would show reaches

sheet-left-title = Missing shore that this plan does not close
sheet-left-columns-1 = length
sheet-left-columns-2 = stretches
sheet-left-columns-3 = why
sheet-left-none = None: the runs show all of it.

sheet-day-title = The day
sheet-day-lines-1 = date
sheet-day-lines-2 = crew
sheet-day-lines-3 = craft
sheet-day-lines-4 = water level
sheet-day-lines-5 = wind
sheet-day-lines-6 = permits

sheet-cautions = Before anyone flies

sheet-reckoning = What the plan reckons with

sheet-before-1 = local rule checked
sheet-before-2 = wind and weather
sheet-before-3 = battery full
sheet-before-4 = spotter named
sheet-before-5 = camera clock right
sheet-before-6 = nobody below

sheet-stations-columns-1 = no.
sheet-stations-columns-2 = latitude, longitude
sheet-stations-columns-3 = leg to it
sheet-stations-columns-4 = height
sheet-stations-columns-5 = true
sheet-stations-columns-6 = magnetic
sheet-stations-columns-7 = camera
sheet-stations-columns-8 = shows
sheet-stations-columns-9 = reaches
sheet-stations-columns-10 = frame no.
sheet-stations-note = Heights count from the water. True and magnetic: the heading; set a compass by the magnetic one. Camera: degrees below level. Leg: from the station before.

sheet-after-1 = up at
sheet-after-2 = down at
sheet-after-3 = battery left
sheet-after-4 = wind
sheet-after-5 = water level
sheet-after-6 = pilot

# What the program says on the sheet

sheet-edition = { $title }, edition { $edition }
sheet-nothing-missing = No shore is missing: nothing need be flown.
sheet-nothing-flown = { $missing } of shore is not yet seen well, and no station that can be flown would show any of it.
sheet-summary = { $stations ->
        [one] { $stations } station
       *[other] { $stations } stations
    } in { $runs ->
        [one] { $runs } run
       *[other] { $runs } runs
    } from { $launch } show { $claimed } of the { $missing } of shore that is not yet seen well.
sheet-summary-all = { $stations ->
        [one] { $stations } station
       *[other] { $stations } stations
    } in { $runs ->
        [one] { $runs } run
       *[other] { $runs } runs
    } from { $launch } show all of the { $missing } of shore that is not yet seen well.
sheet-bound-reached = Of the { $tried } stations tried, no choice could do with fewer.
sheet-bound = Of the { $tried } stations tried, no choice could do with fewer than { $least }.
sheet-no-variation = The variation of the compass is not known: there are no magnetic headings.
sheet-variation = Variation { $degrees }° { $side ->
        [east] E
       *[west] W
    } at the launch point ({ $model }, { $day }).
sheet-no-date = at its beginning, as no date is known
sheet-over-land = { $distance } over land
sheet-none-over-land = none of the way
sheet-facts = { $stations ->
        [one] { $stations } station
       *[other] { $stations } stations
    } from { $launch } and back
sheet-about = about { $time }
sheet-launch = the start point
sheet-share = { $percent }%
sheet-high = ! is { $check } before you fly it.
sheet-point = { $point ->
        [north] N
        [east] E
        [south] S
       *[west] W
    }
