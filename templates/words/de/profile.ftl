# Ein Tiefenprofil in Worten

profile-depths = Tiefe vor dem Ufer: { $depths }.
profile-depth-at = { $depth } bei { $distance }
profile-depth-at-bank = { $depth } am Ufer
profile-unknown = Nicht bekannt von { $near } bis { $far }.
profile-unknown-from-bank = Nicht bekannt vom Ufer bis { $far }.
profile-break = von { $top } auf { $foot }, zwischen { $near } und { $far } vom Ufer, { $slope }, { $fall }
profile-steepest = Steilste Kante: { $words }.
profile-no-break = Keine deutliche Kante.
profile-bound = 95 von 100 solchen Tiefen sind auf { $usual } genau.
profile-bound-worst = 95 von 100 solchen Tiefen sind auf { $usual } genau; die ungenaueste hier, bei { $distance }, auf { $worst }.
profile-bound-worst-at-bank = 95 von 100 solchen Tiefen sind auf { $usual } genau; die ungenaueste hier, am Ufer, auf { $worst }.
profile-level = { $name }: { $level }.
