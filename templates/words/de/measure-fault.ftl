# Eingaben, die nicht verwendbar waren: was ist, was erwartet wurde, und was zu tun ist.

-measure-not-used = Die Datei wird nicht verwendet.

measure-fault-level = level.shown_stage_m: Die Tiefen gelten ab dem Wasser am Tag der Vermessung, das keine Pegelaufzeichnung mit der Bezugshöhe verbindet. Erwartet: Tiefen unter der Bezugshöhe. Liefern Sie stage.csv. Die Tiefen sind gezeigt, wie sie aufgenommen wurden.
measure-fault-contours-unused = { $file }: { $raster } liegt auch vor und geht vor. Erwartet: eines von beiden. { -measure-not-used }
measure-fault-contours-outside = { $file }: Keine der Linien liegt im Wasser. Erwartet: Tiefenlinien dieses Sees. { -measure-not-used }
measure-fault-contours-no-area = { $file }: Die Linien spannen keine Fläche auf. Erwartet: Tiefenlinien dieses Sees. { -measure-not-used }
measure-fault-contours-unit = { $file }: Das Feld { $field } sagt seine Einheit nicht. Erwartet: Meter oder Fuß. Geben Sie depth.contours_unit in survey.toml an. { -measure-not-used }
measure-fault-contours-show = { $file }: Das Feld { $field } kann Tiefen oder Höhen enthalten. Erwartet: eines von beiden. Geben Sie depth.contours_show in survey.toml an. { -measure-not-used }
measure-fault-contours-elevation = { $file }: Das Feld { $field } enthält Höhen. Erwartet: level.elevation_m, die Höhe des Wassers beim Stauziel. Geben Sie sie in survey.toml an. { -measure-not-used }
measure-fault-contours-signs = { $file }: Das Feld { $field } reicht von { $least } bis { $most }. Erwartet: Tiefen mit einem Vorzeichen. Berichtigen Sie die Vorzeichen. { -measure-not-used }
measure-fault-raster-empty = { $file }: Die Datei enthält im Wasser keinen Wert. Erwartet: ein Raster dieses Sees. { -measure-not-used }
measure-fault-raster-units = { $file }: Die Einheit der Datei ist { $told }, survey.toml nennt depth.raster_unit { $stated }. Erwartet: ein und dieselbe. Berichtigen Sie die falsche. { -measure-not-used }
measure-fault-raster-unit = { $file }: Einheit { $told }. Erwartet: Meter oder Fuß. Geben Sie depth.raster_unit in survey.toml an. { -measure-not-used }
measure-fault-raster-no-unit = { $file }: Die Einheit ist nicht gesagt. Erwartet: Meter oder Fuß. Geben Sie depth.raster_unit in survey.toml an. { -measure-not-used }
measure-values = Werte von { $least } bis { $most } m, am Ufer { $bank } m (Median)
measure-fault-raster-elevation = { $file }: Höhen des Grundes, { $values }. Erwartet: level.elevation_m, die Höhe des Wassers beim Stauziel. Geben Sie sie in survey.toml an. { -measure-not-used }
measure-fault-raster-above = { $file }: Höhen über { $told }, die Höhe des Wassers aber über „{ $stated }“. Erwartet: beide über demselben Bezug. Rechnen Sie eine von beiden um. { -measure-not-used }
measure-fault-raster-readings = { $file }: { $values }: möglich sind { $readings }. Erwartet: ein Raster, das sich auf eine Art lesen lässt. Geben Sie depth.raster_shows in survey.toml an. { -measure-not-used }
measure-fault-raster-meaning = { $file }: { $values }. Erwartet: Tiefen (0 am Ufer) oder Höhen (am Ufer die des Stauziels: { $full } m). Prüfen Sie Einheit, Vorzeichen und level.elevation_m. { -measure-not-used }
measure-fault-raster-meaning-unstated = { $file }: { $values }. Erwartet: Tiefen (0 am Ufer) oder Höhen (am Ufer die des Stauziels: nicht angegeben). Prüfen Sie Einheit, Vorzeichen und level.elevation_m. { -measure-not-used }
measure-fault-layer = { $fault } Die Ebene wird nicht verwendet.
