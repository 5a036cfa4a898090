"""An atlas many times as large, to be opened and timed: `python benchmarks/copied_lake.py EDITION OUT --copies 13`.

Lays an edition's lake side by side with itself in the files of its offline atlas: data.js and the folded pages grow as
a real lake's would, photographs and drawings are those of the edition. Open it with `first_view.py --atlas OUT`.
"""

from __future__ import annotations

import argparse
import copy
import json
import re
import shutil
from pathlib import Path
from typing import Any

from atlasgen.write.datascript import LATER_OF_EACH, data_script
from atlasgen.write.packing import MICRO

COPIES_A_ROW = 4
APART = 1.02
_TEXT = re.compile(r"(?:(\w+): )?'((?:[^'\\]|\\.)*)'")


def main() -> None:
    """Copy the edition's offline atlas, with its lake many times."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("edition", type=Path)
    parser.add_argument("out", type=Path)
    parser.add_argument("--copies", type=int, default=13)
    options = parser.parse_args()
    shutil.copytree(options.edition, options.out)
    script, index = options.out / "assets" / "data.js", options.out / "index.html"
    one = _read(script.read_text(encoding="ascii"))
    script.write_text(data_script(_many(one, options.copies)), encoding="ascii")
    pages = _many_pages(index.read_text(encoding="ascii"), len(one["pages"]), options.copies)
    index.write_text(pages, encoding="ascii")


def _read(text: str) -> dict[str, Any]:
    """Return what data.js holds, in the shape of `map_data`."""
    (_, now), *later = [(m[1], json.loads(re.sub(r"\\(x3c|.)", _plain, m[2]))) for m in _TEXT.finditer(text)]
    data = now | dict(later)
    for many, names in LATER_OF_EACH.items():
        for name in names:
            for row, value in zip(data[many], data.pop(name), strict=True):
                row[name] = value
    return data


def _plain(match: re.Match[str]) -> str:
    return "<" if match[1] == "x3c" else match[1]


def _many(one: dict[str, Any], copies: int) -> dict[str, Any]:
    west, south, east, north = one["bounds"]
    whole, rows = copy.deepcopy(one), -(-copies // COPIES_A_ROW)
    for number in range(1, copies):
        away = (east - west) * APART * (number % COPIES_A_ROW), (north - south) * APART * (number // COPIES_A_ROW)
        _add(whole, copy.deepcopy(one), number, away)
    whole["bounds"] = [west, south, west + (east - west) * APART * COPIES_A_ROW, south + (north - south) * APART * rows]
    return whole


def _add(whole: dict[str, Any], one: dict[str, Any], number: int, away: tuple[float, float]) -> None:
    """Add one more lake, so many degrees to the east and to the north, under ids and page numbers of its own."""
    photos, pages, rings = (number * len(one[name]) for name in ("photos", "pages", "rings"))
    for photo in one["photos"]:
        photo |= {"id": f"{photo['id']}-{number}", "page": photo["page"] + pages}
        photo["at"] = [round(value + step, 6) for value, step in zip(photo["at"], away, strict=True)]
        _shift((photo["view"] or {}).get("area", []), away)
    for reach in one["reaches"]:
        reach |= {"id": f"{reach['id']}-{number}", "ring": reach["ring"] + rings}
        reach["pages"] = [page + pages for page in reach["pages"]]
        reach["shownBy"] = [value if i % 3 else value + photos for i, value in enumerate(reach["shownBy"])]
    for page in one["pages"]:
        page |= {"number": page["number"] + pages, "id": f"page-{page['number'] + pages:03d}"}
    for tile in one["tiles"]:
        tile |= {"id": f"{tile['id']}-{number}", "bounds": [v + away[i % 2] for i, v in enumerate(tile["bounds"])]}
    for name in ("pages", "profiles"):
        whole["told"][name] |= {str(int(page) + pages): value for page, value in one["told"][name].items()}
    whole["search"]["titles"] += one["search"]["titles"]
    for name, value in one["find"].items():
        if isinstance(value, list) and len(value) == len(one["reaches"]):
            whole["find"][name] += value
    _add_ground(whole, one, away)


def _add_ground(whole: dict[str, Any], one: dict[str, Any], away: tuple[float, float]) -> None:
    for row in (*one["reaches"], *one["isobaths"]):
        _shift([row["lines"], row.get("doubtful", [])], away)
    for row in (*one["tiles"], *one["bands"], *one["cover"]["classes"]):
        _shift(row["area"], away)
    for name in ("water", "unsounded", "soundings"):
        _shift(one[name], away)
    for name in ("photos", "reaches", "pages", "tiles", "rings", "water", "unsounded", "soundings"):
        whole[name] += one[name]
    for kept, more in zip(whole["isobaths"], one["isobaths"], strict=True):
        kept["lines"] += more["lines"]
        kept["doubtful"] += more["doubtful"]
    for areas, more in ((whole["bands"], one["bands"]), (whole["cover"]["classes"], one["cover"]["classes"])):
        for kept, added in zip(areas, more, strict=True):
            kept["area"] += added["area"]


def _shift(packed: list[Any], away: tuple[float, float]) -> None:
    """Move packed lines, however deep they lie in lists."""
    if packed and isinstance(packed[0], list):
        for part in packed:
            _shift(part, away)
    elif packed:
        packed[:2] = [packed[0] + round(away[0] * MICRO), packed[1] + round(away[1] * MICRO)]


def _many_pages(index: str, pages: int, copies: int) -> str:
    """Repeat the folded pages of the list under page numbers and ids of their own."""
    begin = index.index("\n", index.index('<div id="list"')) + 1
    end = index.index("<noscript data-leaf>\n", begin)
    found = [index[begin:end]]
    for number in range(1, copies):
        body = index[begin:end].replace('id="', f'id="copy-{number}-')
        found.append(re.sub(r'data-leaf="(\d+)"', lambda m, add=number * pages: f'data-leaf="{int(m[1]) + add}"', body))
    return index[:begin] + "".join(found) + index[end:]


if __name__ == "__main__":
    main()
