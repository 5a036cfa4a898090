"""Atlas -> the plain values that the print templates read; every text is made printable on the way.

Nothing here touches the disk and nothing is computed anew: values are chosen, ordered and put into words.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import UTC, date, datetime
from typing import Any

from shapely import Polygon

from atlasgen.compose.cameras import numbered_dot
from atlasgen.compose.drawing import area, hatch, line
from atlasgen.model import (
    Atlas,
    Compass,
    Drawing,
    Figure,
    Gap,
    Measured,
    Page,
    Photo,
    Problem,
    Reach,
    Ring,
    Shape,
)
from atlasgen.model.wording import say
from atlasgen.units import MILE_M, compass_words, date_words, distance_words, local_time, number_words, zone_offset
from atlasgen.write.book_chapters import chapters_data
from atlasgen.write.book_text import Printable, shorten
from atlasgen.write.book_tiles import tile_names, tiles_data
from atlasgen.write.display_photos import DISPLAY_DPI

# Print resolution below which a photo is printed smaller instead: 200 dots per inch, common practice, no source.
PRINT_DPI = 200
MM_PER_INCH = 25.4
# Longest caption and title a page holds, signs; the list of photographs has the whole caption. Ours.
LONGEST_CAPTION = 360
LONGEST_TITLE = 90
# And what a photo of a set looks at, in the lines under its compass. Ours.
LONGEST_LOOK = 120
# The cover photograph stands 174 mm wide (A4 less its margins).
_COVER_PX = round(174 / MM_PER_INCH * PRINT_DPI)


def image_names(atlas: Atlas) -> dict[str, str]:
    """Return what the templates call each photo, by its id: its place in the book.

    A photo that is exchanged for another of the same size and facts then leaves the layout as it is.
    """
    return {figure.photo: f"{page.number}-{figure.number}" for page in atlas.pages for figure in page.figures}


def book_data(atlas: Atlas, dated: date, versions: Mapping[str, str], printable: Printable) -> dict[str, Any]:
    """Return everything the templates print, as JSON values; pictures and drawings by name, not by path."""
    tiles = tile_names(atlas)
    labels = {tile.id: tile.label for tile in atlas.placed.tiles}
    data = {
        "survey": _survey(atlas, dated, printable),
        "how_to_read": [printable.text(text) for text in atlas.how_to_read],
        "cautions": [printable.text(text) for text in atlas.cautions],
        "methods": [printable.text(text) for text in atlas.methods],
        "tiles": tiles_data(atlas, printable),
        "pages": [_page(page, atlas, tiles, labels, printable) for page in atlas.pages],
        "states": _states(atlas, printable),
        "strips": _strips(atlas),
        "gaps": _gaps(atlas, labels, printable),
        "chapters": chapters_data(atlas, printable),
        "photos": _photos(atlas, printable),
        "left_out": [_problem(problem, printable) for problem in atlas.left_out],
        "faults": [_problem(problem, printable) for problem in atlas.problems if problem.level == "fault"],
        "versions": dict(versions),
        "dpi": PRINT_DPI,
        "display_dpi": DISPLAY_DPI,
    }
    return {**data, "lacking": printable.lacking}


def book_drawings(atlas: Atlas, printable: Printable) -> dict[str, Drawing]:
    """Return every drawing of the book by the name that the templates use, its text made printable."""
    drawings = {"overview": atlas.overview, "sources": atlas.source_diagram}
    drawings |= legend_drawings() | atlas.chapter_drawings()
    drawings |= {f"strip-{i}": strip for i, strip in enumerate(atlas.strips, 1)}
    drawings |= {"states": atlas.state_map} if atlas.state_map else {}
    names = tile_names(atlas)
    drawings |= {names[tile]: drawing for tile, drawing in atlas.tile_drawings.items()}
    for page in atlas.pages:
        drawings[f"locator-{page.number}"] = page.locator
        if page.profile:
            drawings[f"profile-{page.number}"] = page.profile
        if page.compass:
            drawings[f"compass-{page.number}"] = page.compass.drawing
    drawings |= atlas.book_maps
    return {name: _printable_drawing(drawing, printable) for name, drawing in drawings.items()}


def _printable_drawing(drawing: Drawing, printable: Printable) -> Drawing:
    shapes = tuple(_printable_shape(shape, printable) for shape in drawing.shapes)
    alt = printable.line(drawing.alt) or drawing.id
    # Mostly it is the very drawing, which is then known by what it was made from.
    return drawing if shapes == drawing.shapes and alt == drawing.alt else replace(drawing, shapes=shapes, alt=alt)


def _printable_shape(shape: Shape, printable: Printable) -> Shape:
    text = printable.line(shape.text) if shape.text else ""
    return shape if text == shape.text else replace(shape, text=text)


def legend_drawings() -> dict[str, Drawing]:
    """Return one small drawing for each sign of the maps, made as the maps make them."""
    width, height = 18.0, 8.0
    bank = ((0.0, 5.0), (6.0, 2.9), (12.0, 4.1), (width, 2.1))
    lower = tuple((x, y + 2.4) for x, y in bank)
    ground = Shape("area", "land", (((0.0, 0.0), (width, 0.0), *reversed(bank)),))
    shore = Shape("line", "shore", (bank,))
    weed = ((3.5, 1.2), (14.5, 1.2), (14.5, 6.8), (3.5, 6.8), (3.5, 1.2))
    hatching = tuple(tuple(part.coords) for part in hatch(Polygon(weed)).geoms)
    frame = Polygon([(6.0, 4.0), (16.0, 0.9), (16.0, 7.1)])
    along = tuple((x, y + 1.5) for x, y in bank[1:3])
    signs: dict[str, tuple[Shape, ...]] = {
        "shore": (ground, shore),
        "reach": (ground, shore, Shape("line", "reach-halo", (bank[1:3],)), Shape("line", "reach", (bank[1:3],))),
        "seen": (ground, shore, Shape("line", "seen", (along,)), *_seen_bars(bank[1:3], along)),
        "camera": (*area("view", frame), *line("view-edge", frame), *numbered_dot(1, (6.0, 4.0), 90.0)),
        "camera_unknown": (
            *numbered_dot(2, (7.5, 4.0), None),
            Shape("text", "camera-query", (((10.6, 4.9),),), text="?", size_mm=2.4),
        ),
        "isobath": (Shape("line", "isobath", (bank,)), Shape("line", "isobath-major", (lower,))),
        "depth": tuple(Shape("area", "depth", (_box(i * 3.6, 3.6, height),), shade=i / 4) for i in range(5)),
        "not_surveyed": (Shape("line", "hatch", hatching), Shape("line", "hatch-edge", (weed,))),
    }
    return {
        f"legend-{key}": Drawing(key, width, height, shapes, say("book-sign", sign=key))
        for key, shapes in signs.items()
    }


def _seen_bars(bank: Sequence[tuple[float, float]], along: Sequence[tuple[float, float]]) -> tuple[Shape, ...]:
    """Return the bars at the ends of the line along a seen shore, as the maps draw them."""
    pairs = zip(bank, along, strict=True)
    return (Shape("line", "seen-end", tuple((shore, (x, y + 0.5)) for shore, (x, y) in pairs)),)


def _box(x_mm: float, width_mm: float, height_mm: float) -> tuple[tuple[float, float], ...]:
    return ((x_mm, 0.0), (x_mm + width_mm, 0.0), (x_mm + width_mm, height_mm), (x_mm, height_mm))


def _survey(atlas: Atlas, dated: date, printable: Printable) -> dict[str, Any]:
    facts = atlas.survey
    words = (
        "title",
        "edition",
        "season",
        "crew",
        "copyright",
        "datum",
        "depths_below",
        "start_name",
        "tile_scheme",
        "crs_metric",
    )
    return {
        **{name: printable.text(getattr(facts, name)) for name in words},
        "zone": printable.text(facts.time_zone),
        "paper": facts.paper,
        "sides": facts.sides,
        "viewer": facts.viewer,
        "language": facts.language,
        "depth_unit": say("book-depth-unit", unit=facts.depth_unit),
        "shore": distance_words(facts.shore_m, facts.distance_unit),
        "dates": _dates(atlas),
        "date": [dated.year, dated.month, dated.day],
        "photos": len(atlas.page_of_photo()),
    }


def _dates(atlas: Atlas) -> str:
    """Return the first and the last day on which a photo of a page was taken, in words."""
    zone = zone_offset(atlas.survey.time_zone)
    days = sorted({local_time(photo.taken, zone).date() for photo in _printed(atlas) if photo.taken})
    if not days:
        return ""
    first, last = days[0], days[-1]
    return date_words(last) if first == last else say("book-dates", first=date_words(first), last=date_words(last))


def _moment(taken: datetime) -> str:
    return f"{date_words(taken, '%b')}, {taken:%H:%M}"


def _printed(atlas: Atlas) -> list[Photo]:
    """Return the photos that stand on a page, in the order of the pages."""
    by_id = {photo.id: photo for photo in atlas.placed.photos}
    return [by_id[figure.photo] for page in atlas.pages for figure in page.figures]


def cover_of(atlas: Atlas, among: set[str], printable: Printable) -> dict[str, Any]:
    """Choose the first aerial photo, else the first photo, that is wide and has the pixels; else the overview map.

    `among` are the ids of the photos that this volume prints.
    """
    fit = [
        photo.id
        for photo in sorted(_printed(atlas), key=lambda photo: photo.kind != "aerial")
        if photo.id in among
        and (picture := atlas.pictures[photo.id]).width_px >= max(_COVER_PX, picture.height_px * 1.2)
    ]
    if not fit:
        return {"drawing": "overview"}
    figures = {figure.photo: figure for page in atlas.pages for figure in page.figures}
    return {
        "image": image_names(atlas)[fit[0]],
        "page": atlas.page_of_photo()[fit[0]],
        "alt": printable.line(figures[fit[0]].alt),
    }


def _page(
    page: Page, atlas: Atlas, tiles: Mapping[str, str], labels: Mapping[str, str], printable: Printable
) -> dict[str, Any]:
    return {
        "number": page.number,
        "title": printable.text(shorten(page.title, LONGEST_TITLE)),
        "subtitle": printable.text(shorten(page.subtitle, LONGEST_TITLE)),
        "tile": tiles.get(page.tile),
        "tile_label": printable.text(shorten(labels.get(page.tile, page.tile), 24)),
        "figures": [_figure(page, figure, atlas, printable) for figure in page.figures],
        "locator": f"locator-{page.number}",
        "profile": f"profile-{page.number}" if page.profile else None,
        "notes": [_note(note, printable) for note in page.notes],
        "previous": page.previous,
        "next": page.next,
        "compass": _compass(page, page.compass, printable) if page.compass else None,
    }


def _compass(page: Page, compass: Compass, printable: Printable) -> dict[str, Any]:
    """Return a set's compass: the drawing over it, and where each photo stands under it."""
    images = {figure.photo: f"{page.number}-{figure.number}" for figure in page.figures}
    alts = {figure.photo: printable.line(figure.alt) or figure.photo for figure in page.figures}
    thumbnails = [
        {
            **{name: getattr(thumb, name) for name in ("number", "x_mm", "y_mm", "width_mm", "height_mm")},
            "image": images[thumb.photo],
            "words": printable.text(shorten(thumb.words, LONGEST_LOOK)),
            "alt": alts[thumb.photo],
        }
        for thumb in compass.thumbnails
    ]
    caption = printable.text(compass.caption)
    return {"drawing": f"compass-{page.number}", "caption": caption, "thumbnails": thumbnails}


def _figure(page: Page, figure: Figure, atlas: Atlas, printable: Printable) -> dict[str, Any]:
    picture = atlas.pictures[figure.photo]
    return {
        "number": figure.number,
        "image": f"{page.number}-{figure.number}",
        "width_px": picture.width_px,
        "height_px": picture.height_px,
        "caption": printable.text(shorten(figure.caption, LONGEST_CAPTION)),
        "cut": len(figure.caption) > LONGEST_CAPTION,
        "alt": printable.line(figure.alt) or printable.line(figure.caption) or figure.photo,
    }


def _note(note: Any, printable: Printable) -> dict[str, Any]:
    sentences = [{"text": printable.text(item.text), "strong": item.strong} for item in note.sentences]
    return {"heading": printable.text(note.heading), "sentences": sentences}


def _photos(atlas: Atlas, printable: Printable) -> list[dict[str, Any]]:
    zone, figures = zone_offset(atlas.survey.time_zone), [figure for page in atlas.pages for figure in page.figures]
    pages = atlas.page_of_photo()
    return [
        {
            "image": f"{pages[photo.id]}-{figure.number}",
            "file": printable.text(photo.source.file),
            "page": pages[photo.id],
            "number": figure.number,
            "taken": _moment(local_time(photo.taken, zone)) if photo.taken else None,
            "position": printable.text(photo.position_how),
            "direction": _direction(photo.heading_deg_true, printable),
            "caption": printable.text(figure.caption) if len(figure.caption) > LONGEST_CAPTION else None,
        }
        for photo, figure in zip(_printed(atlas), figures, strict=True)
    ]


def _direction(heading: Measured | None, printable: Printable) -> dict[str, Any] | None:
    if heading is None:
        return None
    # A bearing of 359.6 is printed as 0, never as 360.
    words = f"{round(heading.value) % 360:03d}° {compass_words(heading.value, 8)}"
    return {"words": words, "source": printable.text(heading.source), "assumed": heading.assumed}


def _states(atlas: Atlas, printable: Printable) -> dict[str, Any] | None:
    words = [printable.text(text) for text in atlas.state_words]
    return {"drawing": "states", "words": words} if atlas.state_map else None


def _problem(problem: Problem, printable: Printable) -> dict[str, Any]:
    """Give the message without the file's name where it begins with it: the name has its own column."""
    why = problem.message.removeprefix(problem.subject).lstrip(": ")
    return {
        "file": printable.text(problem.subject),
        "why": printable.text(why or say("problem-kind", code=problem.code)),
    }


def _strips(atlas: Atlas) -> list[str]:
    """Name the pages of the strip chart: those made for this paper, if any were, else the screen's."""
    own = sum(name.startswith("strip-") for name in atlas.book_maps)
    return [f"strip-{i}" for i in range(1, (own or len(atlas.strips)) + 1)]


def _gaps(atlas: Atlas, labels: Mapping[str, str], printable: Printable) -> list[dict[str, Any]]:
    by_id = {reach.id: reach for reach in atlas.placed.reaches}
    found = atlas.known.gaps
    return [_gap(gap, [by_id[name] for name in gap.reaches], atlas, labels, printable) for gap in found]


def _gap(gap: Gap, reaches: Sequence[Reach], atlas: Atlas, labels: Mapping[str, str], printable: Printable) -> dict:
    unit = atlas.survey.distance_unit
    ring = next(ring for ring in atlas.placed.rings if ring.id == gap.ring)
    ids = [gap.reaches[0]] if len(gap.reaches) == 1 else [gap.reaches[0], gap.reaches[-1]]
    return {
        "where": printable.text(_where(ring, reaches)),
        "reaches": [printable.text(name) for name in ids],
        "from": _chainage(gap.from_m, unit),
        "to": _chainage(gap.to_m, unit),
        "length": distance_words(gap.length_m, unit),
        "tiles": [printable.text(label) for label in _once(labels.get(reach.tile, reach.tile) for reach in reaches)],
    }


def _where(ring: Ring, run: Sequence[Reach]) -> str:
    """Name the stretch: the island or the places on it, then the banks, three at the most."""
    places = [ring.name] if ring.name else _once(reach.place for reach in run if reach.place)
    names = _once(reach.name for reach in run)
    first, last = names[0], names[-1]
    if len(names) == 3:
        banks = say("book-three-banks", first=first, middle=names[1], last=last)
    else:
        banks = first if len(names) == 1 else say("book-banks", first=first, last=last)
    words = ", ".join([*places[:2], banks])
    return words[:1].upper() + words[1:]


def _once(items: Iterable[str]) -> list[str]:
    return list(dict.fromkeys(items))


def _chainage(along_m: float, unit: str) -> str:
    if unit == "metric":
        return say("units-length", number=number_words(along_m / 1000, 2), unit="kilometres")
    return say("units-length", number=number_words(along_m / MILE_M, 2), unit="miles")


def document_date(atlas: Atlas, epoch: str | None) -> date:
    """Return the edition's date: survey.toml's, else SOURCE_DATE_EPOCH's, else the newest photo's.

    An archive file (PDF/A) must carry a date. Where nothing tells one, it is 1 January 1970, the zero of time
    stamps, which no reader takes for a date of survey.
    """
    if atlas.survey.dated:
        return atlas.survey.dated
    if epoch and epoch.isdecimal():
        return datetime.fromtimestamp(int(epoch), UTC).date()
    taken = [photo.taken for photo in atlas.placed.photos if photo.taken]
    return max(taken).astimezone(UTC).date() if taken else date(1970, 1, 1)
