# The chart edition that the atlas ships with does not agree with it.

chart-editions-differ = chart.edition: the chart is { $chart }, the atlas { $atlas }. Expected one edition. Mend survey.toml, then build
    again.
chart-datums-differ = chart.datum: the chart's depths are below { $chart }, the atlas's below { $atlas }. Expected one datum. Mend
    survey.toml, then build again.
chart-older-than-soundings = chart.date: the chart is of { $chart }, the atlas holds soundings to { $soundings }. Expected a chart made
    after them. Mend survey.toml, then build again.
