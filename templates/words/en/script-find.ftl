# What the script of "Find" says.

script-find-all = { $count ->
    [one] One bank, { $length } of shore. Nothing is asked of it yet.
   *[other] { $count } banks, { $length } of shore. Nothing is asked of them yet.
 }
script-find-fit = { $count ->
    [0] No bank fits.
    [one] One bank fits: { $length } of { $all } of shore.
   *[other] { $count } banks fit: { $length } of { $all } of shore.
 }
script-find-unknown = { $count ->
    [one] One cannot be judged: what you ask is not known there.
   *[other] { $count } cannot be judged: what you ask is not known there.
 }
script-find-less = Ask for less: leave one of the lines out, or go farther from the bank.
script-find-level = Depths and distances are for the lake { $level }: they count from the edge that the water has then.
script-find-place = { $number ->
    [0] { $count ->
        [0] No bank fits
        [one] One bank fits
       *[other] { $count } banks fit
     }
   *[other] { $number } of { $count } that fit
 }
script-find-no-next = No other bank fits on this side.
script-find-more = { $count ->
    [one] Show one more
   *[other] Show { $count } more
 }
script-find-depth = { $from } to { $to } { $unit } from { $near } to { $far } out.
script-find-depth-open = { $from } { $unit } and deeper from { $near } to { $far } out.
script-find-depth-broken = { $from } to { $to } { $unit } from { $near } to { $far } out, not all the way.
script-find-depth-open-broken = { $from } { $unit } and deeper from { $near } to { $far } out, not all the way.
script-find-break = { $word ->
    [steep] A steep break { $near } out.
    [very-steep] A very steep break { $near } out.
   *[other] A break { $near } out.
 }
script-find-relief = { $kind ->
    [hump] Hump { $number }, { $near } off.
    [ridge] Ridge { $number }, { $near } off.
    [hole] Hole { $number }, { $near } off.
    [channel] Channel { $number }, { $near } off.
   *[ledge] Ledge { $number }, { $near } off.
 }
script-find-reach = reach { $reach }
script-find-reach-page = reach { $reach }, page { $page }
script-find-band = The second depth must be the larger one.
script-find-wrong = “{ $asked }” in the address is nothing that can be asked here. It is left out.
script-find-slider = { $answer ->
    [fits] It fits what you ask.
    [unknown] Whether it fits is not known.
   *[no] It does not fit.
 }
