"""The folium map: local files only, the same script each time."""

from __future__ import annotations

import folium

from atlasgen.write.webmap import make_map, map_parts


def test_folium_itself_is_left_as_it_was():
    """The subclass has its own lists of files; the shared ones still name the network."""
    html, script = map_parts(make_map((-96.41, -31.51, -96.39, -31.49)))
    assert "http" not in html + script
    assert "maxZoom" in script
    assert any(url.startswith("https:") for _, url in folium.Map.default_js)


def test_the_script_is_the_same_each_time_and_hands_the_map_over_last():
    """Random ids would differ; our own scripts take the map once it is made."""
    first, second = (map_parts(make_map((-96.41, -31.51, -96.39, -31.49))) for _ in range(2))
    assert first == second
    assert first[1].rstrip().endswith("lake.takeMap(map_lake);")
