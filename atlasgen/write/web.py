"""Writes the offline atlas: index.html, its data, drawings and assets. It opens from a file and asks no network."""

from __future__ import annotations

import marshal
import shutil
import sys
from collections.abc import Callable, Collection, Iterator
from functools import partial
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Any

from atlasgen.compose.landmark_words import hazard_caution
from atlasgen.model import Atlas, Drawing, Progress
from atlasgen.model.memory import ANEW, Memory
from atlasgen.model.wording import DEFAULT, language, say
from atlasgen.resources import resource
from atlasgen.units import area_words, depth_words, distance_words
from atlasgen.write.bed_picture_data import picture_name
from atlasgen.write.datascript import data_script
from atlasgen.write.findchoices import find_choices
from atlasgen.write.landmarks import landmark_entries, landmark_kinds
from atlasgen.write.spoken import kept_together, say_html
from atlasgen.write.svg import remembered_svg
from atlasgen.write.webdata import map_data
from atlasgen.write.webgrid import why_no_levels
from atlasgen.write.webmap import map_of
from atlasgen.write.webwords import anchor, bare_reaches, photographed_share, problem_groups, tile_rows

if TYPE_CHECKING:
    from jinja2 import Environment

# No inline script or style anywhere, nothing from elsewhere, no request from a script.
CONTENT_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; font-src 'self'; "
    "connect-src 'none'; base-uri 'none'; form-action 'none'"
)
FACE = "Source Sans Pro"
FONT_FACES = ("SourceSansPro-Regular.ttf", "SourceSansPro-Semibold.ttf", "SourceSansPro-It.ttf")
LIBRARY_FILES = (
    "leaflet.js",
    "leaflet.css",
    "images/layers.png",
    "images/layers-2x.png",
    "images/marker-icon.png",
)
# In the order the page needs them: what a script uses stands before it. They are sent as one file, since a phone takes
# longer to open a file than to run what is in it; the last, which starts everything, as another.
SCRIPTS = (
    *("words", "theme", "unpack", "shapes", "fold", "grid", "contour", "band"),
    *("views", "ground", "ink", "find", "map", "strip"),
    *("parts", "light", "foot", "shows", "level", "pictures", "cover", "landmarks", "search", "earth", "here"),
    *("banks", "asking", "answers", "walk", "viewer", "beside", "pano"),
    *("marks", "exchange", "marking", "marks_panel", "paper"),
    *("panel", "sheet", "address", "start"),
)
STYLES = (
    *("type", "frame", "map", "page", "set", "viewer", "beside", "pano", "list", "chapter", "foot"),
    *("level", "pictures", "cover", "light", "landmarks", "search", "here", "asks", "marks", "print"),
)
# What other parts of a build may have put beside index.html, and the message that says what it is.
COMPANIONS = (
    ("audit/reaches.csv", "web-file-reaches"),
    ("audit/reshoot.gpx", "web-file-reshoot"),
    ("atlas.gpkg", "web-file-geopackage"),
    ("atlas.json", "web-file-facts"),
)
CSS_PX_PER_MM = 96 / 25.4


def write_web(atlas: Atlas, out: Path, progress: Progress, memory: Memory = ANEW, beside: Collection[str] = ()) -> None:
    """Write `out`/index.html, assets/ and drawings/; `out`/photos and thumbs, by photo id, are there already.

    Same atlas, same bytes. Companions such as atlas.pdf are linked only if they exist by now, or are named in `beside`:
    those are being written.

    Raises
    ------
    OSError
        The folder cannot be written.
    """
    draw = partial(_write_drawings, memory=memory)
    map_html, map_script = map_of(atlas.survey.bounds_deg, memory)
    lay, index = (
        partial(_write_map, script=map_script, memory=memory),
        partial(_write_index, map_html=map_html, beside=beside, memory=memory),
    )
    steps: tuple[Callable[[Atlas, Path], None], ...] = (_copy_assets, lay, draw, index)
    for done, step in enumerate(steps):
        progress("web atlas", done, len(steps))
        step(atlas, out)
    progress("web atlas", len(steps), len(steps))


def _copy_assets(_: Atlas, out: Path) -> None:
    """Copy library, faces with their licence, and our own files; the library byte for byte, so it can be verified."""
    assets = out / "assets"
    library = _package_folder("js_lib_leaflet") / "static" / "js_lib_leaflet"
    for name in LIBRARY_FILES:
        _copy(library / name, assets / "leaflet" / name)
    faces = _package_folder("font_source_sans_pro") / "files"
    for name in (*FONT_FACES, "LICENSE.txt"):
        _copy(faces / name, assets / "fonts" / name)
    _write_text(assets / "css" / "atlas.css", "\n".join(_own("css", name) for name in STYLES))


def _own(kind: str, name: str) -> str:
    return resource("templates", "web", kind, f"{name}.{kind}").read_text(encoding="utf-8")


def _write_text(path: Path, text: str) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8", newline="\n")


def _package_folder(package: str) -> Path:
    return Path(str(import_module(package).__file__)).parent


def _copy(source: Path, target: Path) -> None:
    target.parent.mkdir(parents=True, exist_ok=True)
    shutil.copyfile(source, target)


def _drawings(atlas: Atlas) -> Iterator[tuple[str, Drawing]]:
    """Yield each drawing with its file name; names are ours, never the survey's, so that any system can hold them."""
    yield "overview", atlas.overview
    yield "sources", atlas.source_diagram
    yield from atlas.chapter_drawings().items()
    if atlas.state_map:
        yield "states", atlas.state_map
    for number, strip in enumerate(atlas.strips, 1):
        yield f"strip-{number}", strip
    for number, tile in enumerate(atlas.placed.tiles, 1):
        if tile.id in atlas.tile_drawings:
            yield f"tile-{number:03d}", atlas.tile_drawings[tile.id]
    for page in atlas.pages:
        yield f"page-{page.number:03d}-map", page.locator
        if page.profile:
            yield f"page-{page.number:03d}-profile", page.profile
        if page.compass:
            yield f"page-{page.number:03d}-compass", page.compass.drawing


def _write_map(atlas: Atlas, out: Path, script: str, memory: Memory) -> None:
    js = out / "assets" / "js"
    for name in ("first", SCRIPTS[-1]):
        _write_text(js / f"{name}.js", _own("js", name))
    _write_text(js / "atlas.js", "\n".join(script if name == "map" else _own("js", name) for name in SCRIPTS[:-1]))
    _write_text(out / "assets" / "data.js", data_script(map_data(atlas, memory)))


def _write_drawings(atlas: Atlas, out: Path, memory: Memory) -> None:
    folder = out / "drawings"
    folder.mkdir(parents=True, exist_ok=True)
    for name, drawing in _drawings(atlas):
        # An image cannot use the page's faces: name the system's own sans serif as the next choice.
        svg = remembered_svg(drawing, memory).replace(
            f'font-family="{FACE}"', f'font-family="{FACE}, Helvetica, Arial, sans-serif"'
        )
        (folder / f"{name}.svg").write_text(svg, encoding="utf-8", newline="\n")


def _image(name: str, drawing: Drawing) -> dict[str, Any]:
    """Return what an img element needs of a drawing; sizes in CSS pixels."""
    return {
        "src": f"drawings/{name}.svg",
        "alt": drawing.alt,
        "width_px": round(drawing.width_mm * CSS_PX_PER_MM),
        "height_px": round(drawing.height_mm * CSS_PX_PER_MM),
    }


def _write_index(atlas: Atlas, out: Path, map_html: str, beside: Collection[str], memory: Memory) -> None:
    from jinja2 import FileSystemLoader, StrictUndefined

    environment = _templates_of(memory)(
        loader=FileSystemLoader(resource("templates", "web")),
        autoescape=True,
        undefined=StrictUndefined,
        # In English a line may end between a number and its unit, as it always might.
        finalize=None if language() == DEFAULT else kept_together,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    environment.globals |= {"anchor": anchor, "say": say_html}
    page = environment.get_template("index.html").render(_context(atlas, {*beside, *_files(out)}, map_html))
    # Other letters as references: a browser reads plain ASCII four times as fast, and a large lake's page is long.
    (out / "index.html").write_bytes(page.encode("ascii", "xmlcharrefreplace"))


def _templates_of(memory: Memory) -> type[Environment]:
    """Return an environment that compiles each template once and remembers what came of it."""
    from jinja2 import Environment

    class Remembering(Environment):
        def compile(self, source, name=None, filename=None, raw=False, defer_init=False):  # type: ignore[override]
            compiled = partial(super().compile, source, name, filename, raw, defer_init)
            made_of = (source, name, raw, defer_init, sys.version)
            return marshal.loads(memory.remember("template", made_of, lambda: marshal.dumps(compiled())))

    return Remembering


def _files(out: Path) -> Iterator[str]:
    """Yield the names of what may be linked to and is there."""
    companions = (name for name, _ in COMPANIONS if (out / name).is_file())
    yield from (*companions, *(path.name for path in out.glob("atlas*.pdf")))


def _books(files: Collection[str]) -> list[tuple[str, str]]:
    """Return the files of the book, with words for them."""
    names = sorted((name for name in files if name.endswith(".pdf")), key=lambda name: (len(name), name))
    if len(names) == 1:
        return [(names[0], say("web-file-book"))]
    return [(name, say("web-file-volume", number=i, count=len(names))) for i, name in enumerate(names, 1)]


def _context(atlas: Atlas, files: Collection[str], map_html: str) -> dict[str, Any]:
    books = _books(files)
    return {
        "atlas": atlas,
        "survey": atlas.survey,
        "policy": CONTENT_POLICY,
        "map_html": map_html,
        "companions": [*books, *((name, say(words)) for name, words in COMPANIONS if name in files)],
        "book": books[0][0] if books else None,
        "tiles": tile_rows(atlas),
        "tile_labels": {tile.id: tile.label for tile in atlas.placed.tiles},
        "page_by_number": {page.number: page for page in atlas.pages},
        "images": {name: _image(name, drawing) for name, drawing in _drawings(atlas)},
        "first_mention": _first_mentions(atlas),
        "bare": bare_reaches(atlas),
        "landmarks": landmark_entries(atlas),
        "landmark_kinds": landmark_kinds(atlas),
        "hazard_caution": hazard_caution(atlas.placed.landmarks),
        "views": bool(atlas.known.views.views),
        "no_levels": why_no_levels(atlas),
        "states": sorted(set(atlas.known.reach_state.values())),
        "pictures": [{"id": layer.id, "name": picture_name(layer)} for layer in atlas.bed_pictures],
        "photo_count": sum(len(page.figures) for page in atlas.pages),
        "problems": problem_groups([p for p in atlas.problems if p.level != "left_out"]),
        "left_out": problem_groups(atlas.left_out),
        "find": find_choices(atlas),
        **_figures_in_words(atlas),
    }


def _figures_in_words(atlas: Atlas) -> dict[str, Any]:
    """Return the lake's few numbers as a reader sees them."""
    survey, bands = atlas.survey, atlas.layers.bands
    coverage = next(iter(atlas.known.reach_coverage.values()), None)
    near_m = coverage.near_sounding_m if coverage else None
    return {
        "shore_words": distance_words(survey.shore_m, survey.distance_unit),
        "water_words": area_words(survey.water_m2, survey.distance_unit),
        "photographed_words": photographed_share(atlas),
        "deepest_words": depth_words(max(b.from_m for b in bands), survey.depth_unit) if bands else None,
        "near_words": None if near_m is None else distance_words(near_m, survey.distance_unit),
        "off_words": distance_words(coverage.off_bank_m, survey.distance_unit) if coverage else None,
    }


def _first_mentions(atlas: Atlas) -> dict[str, int]:
    """Reach id to the first page that shows it: there its address points, and an id stands once in a document."""
    found: dict[str, int] = {}
    for page in atlas.pages:
        for reach_id in page.reaches:
            found.setdefault(reach_id, page.number)
    return found
