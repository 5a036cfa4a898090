# A depth profile told in words

profile-depths = Depth off the bank: { $depths }.
profile-depth-at = { $depth } at { $distance }
profile-depth-at-bank = { $depth } at the bank
profile-unknown = Not known from { $near } to { $far }.
profile-unknown-from-bank = Not known from the bank to { $far }.
profile-break = from { $top } down to { $foot } between { $near } and { $far } from the bank, { $slope }, { $fall }
profile-steepest = Steepest break: { $words }.
profile-no-break = No marked break.
profile-bound = 95 in 100 such depths are within { $usual } of the truth.
profile-bound-worst = 95 in 100 such depths are within { $usual } of the truth; the worst here, at { $distance }, within { $worst }.
profile-bound-worst-at-bank = 95 in 100 such depths are within { $usual } of the truth; the worst here, at the bank, within { $worst }.
# $name says whose level: "water that day".
profile-level = The { $name } was { $level }.
