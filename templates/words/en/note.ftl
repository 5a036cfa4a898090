# What a page says beside its photographs. $within, $near, $level, $day and the depths are words already.

note-heading =
    { $topic ->
        [depth] Depth
        [close] Close by
        [bed] The bed off this bank
        [coverage] How well surveyed
        [level] Water level
        [shown] Photographs of this bank
        [repeats] The same bank on another day
        [layers] Older pictures of this place
       *[position] Where these were taken
    }

## Depth

note-no-soundings = No soundings were supplied. The depth here is not known.
note-no-soundings-but-depths = No soundings were supplied. The depths are those supplied with the survey.
note-none-near = No sounding was taken within { $within } of this bank. The depth here is not known.
note-none-near-modelled = No sounding was taken within { $within } of this bank. The depths are those of the model alone.
# $level is what depths are below: the datum, or the water on a day.
note-water-on-the-day = the water on the day
note-one-dry = One sounding was taken within { $within } of this bank. It lies on ground that is dry with { $level }.
note-all-dry = { $count } soundings were taken within { $within } of this bank. All of them lie on ground that is dry with { $level }.
note-one = One sounding was taken within { $within } of this bank: { $deepest } below { $level }.
note-half-dry = { $count } soundings within { $within } of this bank: half of them or more on ground that is dry with { $level }, deepest { $deepest } below that.
note-shallowest-dry = { $count } soundings within { $within } of this bank: the shallowest on ground that is dry with { $level }, half of them deeper than { $median }, deepest { $deepest } below that.
note-spread = { $count } soundings within { $within } of this bank: shallowest { $shallowest }, half of them deeper than { $median }, deepest { $deepest } below { $level }.
note-depth-at = { $depth } at { $distance }
note-out-from-middle = Straight out from the middle of the reach: { $depths } from the bank.
note-unknown-at = At { $distances } it is not known.
note-not-reduced = No stage record was supplied, so these depths are not tied to the datum: they are below the water surface on the day of the survey.

## How well surveyed

note-how-not-recorded = No soundings were supplied; how the supplied depths were surveyed is not recorded here.
note-coverage-unknown = How well this water was surveyed is not known.
note-not-surveyed = No soundings were supplied, so this water counts as not surveyed.
note-none-covered = None of the water within { $within } of this bank is within { $near } of a sounding.
note-all-covered = All of the water within { $within } of this bank is within { $near } of a sounding.
note-share-covered = { $share } of the water within { $within } of this bank is within { $near } of a sounding.
note-rest-not-sounded = The other { $share } was not sounded.
# $reason is the crew's own word.
note-marked = The crew marked { $share } of it as not surveyed: { $reason }.
note-no-reason = The crew gave no reason for that.

## Water level

# $who: this (the page's only photo), all, one or some of several; $level as in "1.4 ft below full".
note-level =
    { $who ->
        [this] On { $day }, when this photo was taken, the water stood { $level }.
        [all] On { $day }, when these photos were taken, the water stood { $level }.
        [one] On { $day }, when photo { $numbers } was taken, the water stood { $level }.
       *[some] On { $day }, when photos { $numbers } were taken, the water stood { $level }.
    }
note-level-unknown =
    { $who ->
        [this] The water level on { $day }, when this photo was taken, is not known.
        [all] The water level on { $day }, when these photos were taken, is not known.
        [one] The water level on { $day }, when photo { $numbers } was taken, is not known.
       *[some] The water level on { $day }, when photos { $numbers } were taken, is not known.
    }
note-day-unknown =
    { $who ->
        [this] When this photo was taken is not known, so neither is the water level then.
        [all] When these photos were taken is not known, so neither is the water level then.
        [one] When photo { $numbers } was taken is not known, so neither is the water level then.
       *[some] When photos { $numbers } were taken is not known, so neither is the water level then.
    }

## Other photographs of this bank

note-not-shown = No photograph is known to show this bank.
note-all-shown = All of this reach is shown in some photograph.
note-share-shown = { $share } of this reach is shown in some photograph.
note-elsewhere-on = page { $page } (photo { $photo })
note-elsewhere = It is also seen on { $pages }.
note-elsewhere-more = It is also seen on { $pages }, and { $count } more.

## Where these were taken

# $how is a phrase of place.ftl.
note-station = Station: { $how }.
note-stations =
    { $count ->
        [one] Photo { $numbers }: { $how }.
       *[other] Photos { $numbers }: { $how }.
    }
