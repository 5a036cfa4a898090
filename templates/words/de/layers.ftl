# Alte Karten, Luftbilder und andere Bilder, die die Crew auf den See gelegt hat.

layers-title = Alte Karten und Bilder bei Niedrigwasser
layers-lead = Ein Bild aus der Zeit, als der See abgesenkt war, zeigt den Grund trocken bis zur Tiefenlinie dieses Wasserstands. Eine
    historische Karte zeigt, wie das Tal lag; ihre Tiefen und Höhen sind die ihrer Zeit.
layers-kind-first = { $kind ->
    [air-photo] Luftbild
    [satellite-image] Satellitenbild
    [historic-chart] Historische Karte
   *[sonar-mosaic] Sonarmosaik
 }
layers-head = { layers-kind-first }, Datum nicht bekannt, Datei { $file }.
layers-head-dated = { layers-kind-first } vom { $day }, Datei { $file }.
layers-covers = Es deckt die Ufer auf { $pages } ab.
layers-covers-none = Es deckt kein Ufer ab, das eine Seite hat.
layers-level = Der Wasserstand war damals { $level } ({ $source }).
layers-no-level = Der damalige Wasserstand ist nicht bekannt: { $why }.
layers-dry-to = Es zeigt den Grund trocken bis zur Tiefenlinie { $depth }, die in den Karten steht.
layers-no-dry-bed = Trockener Grund ist darauf nicht zu sehen.
layers-residuals = Wie jeder Passpunkt zur Einpassung liegt
layers-column-point = Passpunkt
layers-column-east = Ost
layers-column-north = Nord

layers-name = „{ $title }“
layers-name-dated = „{ $title }“ vom { $day }
layers-mosaic-here = Das Sonarmosaik { $name } deckt dieses Ufer ab; wie gut es zu sehen ist, steht bei der Vermessung.
layers-chart-here = Die historische Karte { $name } deckt dieses Ufer ab. Sie weicht hier um etwa { $out } ab. Sie ist alt: Entnehmen
    Sie ihr keine Tiefe.
layers-chart-here-unchecked = Die historische Karte { $name } deckt dieses Ufer ab. Um wie viel sie hier abweicht, ist nicht bekannt. Sie
    ist alt: Entnehmen Sie ihr keine Tiefe.
layers-image = { $kind ->
    [air-photo] Das Luftbild { $name }
   *[satellite-image] Das Satellitenbild { $name }
 }
layers-image-no-level = { layers-image } deckt dieses Ufer ab. Der damalige Wasserstand ist nicht bekannt: { $why }.
layers-image-no-dry-bed = { layers-image } deckt dieses Ufer ab. Es entstand bei einem Wasserstand { $level } und zeigt keinen trockenen
    Grund.
layers-image-dry-to = { layers-image }, aufgenommen bei einem Wasserstand { $level }, zeigt den Grund trocken bis zur Tiefenlinie
    { $depth }.
layers-fit-how = Eingepasst über { $count } Passpunkte ({ $kind ->
    [affine] affin
   *[similarity] Ähnlichkeit
 }, kleinste Quadrate)
layers-fit = { layers-fit-how }: mittlerer Fehler { $rmse }, am schlechtesten Punkt { $point } mit { $worst }.
layers-fit-unchecked = { layers-fit-how }; kein Punkt bleibt zur Prüfung übrig, deshalb ist nicht bekannt, wie weit es abweicht.
layers-waterline-compared = Auf { $length } wurde die Wasserlinie des Bildes mit der Tiefenlinie { $depth } verglichen: Die Hälfte liegt
    innerhalb von { $half }, 95 % liegen innerhalb von { $most }.
layers-waterline-not-compared = Die Wasserlinie des Bildes verläuft, wo keine Tiefe bekannt ist, und konnte nicht verglichen werden.
