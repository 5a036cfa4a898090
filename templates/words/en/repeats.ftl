# Repeat photographs: the same bank again, on another day or at another level

repeats-pair = { $when ->
        [earlier] Photo { $number } repeats an earlier one of { $day }, taken { $apart } away: photo { $other } on page { $page }.
       *[later] Photo { $number } was taken again on { $day }, from { $apart } away: photo { $other } on page { $page }.
    }
repeats-here = Photos { $number } and { $other } show the same bank on { $day } and again on { $later }, from { $apart } away.
repeats-fallen = The water then stood { $height } lower.
repeats-risen = The water then stood { $height } higher.
repeats-told = Stations { $apart } apart on the map, directions { $turn }° apart; { $days ->
        [one] { $days } day
       *[other] { $days } days
    } between; both show { $shared } of the same bank.
repeats-limits = Two photographs are a pair where they were taken at most { $most } apart, nearer where the bank is near, look within { $turn }° of one direction and share at least half of the bank they show, and where the level differs by { $level } or { $days } days lie between.
repeats-tag = { $day }, { $level }
repeats-tag-no-level = { $day }, level not known
repeats-former = Photo { $number } repeats one of the edition { $edition }, of { $day }, taken { $apart } away: photo { $other } on page { $page } there.
repeats-former-level = The water then stood { $level }.
