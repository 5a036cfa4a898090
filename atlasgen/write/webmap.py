"""The map of the offline atlas: folium describes it, everything it needs lies in the atlas's own folder."""

from __future__ import annotations

from functools import cache
from typing import Any

from atlasgen.model.memory import Memory

LIBRARY_JS = (("leaflet", "assets/leaflet/leaflet.js"),)
LIBRARY_CSS = (("leaflet_css", "assets/leaflet/leaflet.css"),)
# Panes from the bottom up; between the map library's own vectors (400) and its markers (600).
PANES = (("ground", 410), ("pictures", 414), ("lines", 418), ("views", 430), ("ink", 450))
FARTHEST_ZOOM, CLOSEST_ZOOM = 8, 21


@cache
def _classes() -> tuple[type, type]:
    """Make the two subclasses on first use: importing folium costs half a second."""
    import folium
    from branca.element import MacroElement
    from folium.template import Template

    class OfflineMap(folium.Map):
        """A map whose library files are local; the shared class lists stay as they are."""

        default_js = list(LIBRARY_JS)  # noqa: RUF012 - folium declares them so
        default_css = list(LIBRARY_CSS)  # noqa: RUF012

    class Handover(MacroElement):
        """Gives the finished map to our own scripts, which draw the lake on it from data.js."""

        _template = Template(
            "{% macro script(this, kwargs) %}\nlake.takeMap({{ this._parent.get_name() }});\n{% endmacro %}"
        )

    return OfflineMap, Handover


def make_map(bounds_deg: tuple[float, float, float, float]) -> Any:
    """Describe the map of a lake within `bounds_deg` (west, south, east, north); a folium map without tiles."""
    import folium

    offline_map, handover = _classes()
    west, south, east, north = bounds_deg
    map_ = offline_map(
        location=[round((south + north) / 2, 6), round((west + east) / 2, 6)],
        zoom_start=15,
        tiles=None,
        prefer_canvas=True,
        zoom_control=False,
        attribution_control=False,
    )
    # Set here because folium passes these on only together with a tile layer.
    map_.options.update(
        min_zoom=FARTHEST_ZOOM,
        max_zoom=CLOSEST_ZOOM,
        zoom_snap=0.25,
        zoom_delta=0.75,
        wheel_px_per_zoom_level=90,
        bounce_at_zoom_limits=False,
        max_bounds=_room_around(bounds_deg),
    )
    for name, z_index in PANES:
        folium.map.CustomPane(name, z_index=z_index).add_to(map_)
    handover().add_to(map_)
    _name_by_order(map_)
    return map_


def map_of(bounds_deg: tuple[float, float, float, float], memory: Memory) -> tuple[str, str]:
    """Return the parts of the map within some bounds, or what they were before."""
    return memory.remember("web map", bounds_deg, lambda: map_parts(make_map(bounds_deg)))


def map_parts(map_: Any) -> tuple[str, str]:
    """Return the map's HTML (one empty element) and its script, apart, so that no script stands in the page.

    folium's own header (inline styles, a viewport that forbids zooming the text) is left out on purpose.
    """
    figure = map_.get_root()
    figure.render()
    return figure.html.render().strip() + "\n", figure.script.render().strip() + "\n"


def _room_around(bounds_deg: tuple[float, float, float, float]) -> list[list[float]]:
    """Return corners (latitude, longitude) one lake's length beyond the lake: enough to centre any shore."""
    west, south, east, north = bounds_deg
    room = max(east - west, north - south, 0.002)
    return [[round(south - room, 6), round(west - room, 6)], [round(north + room, 6), round(east + room, 6)]]


def _name_by_order(map_: Any) -> None:
    """Replace the random element ids by their order, so that equal input gives equal bytes."""
    map_._id = "lake"
    for number, child in enumerate(map_._children.values(), 1):
        child._id = f"{number}"
