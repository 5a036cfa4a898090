"""Takes README's pictures again from a built demo: `python shared/pictures/retake.py atlas`.

Needs Debian's chromium and poppler-utils (pdftoppm), and the PyPI package playwright.
"""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent


def main(atlas: Path) -> None:
    """Print one page of the book as a picture, and photograph the map index and the phone."""
    page = _best_page(atlas)
    _print_page(atlas / "atlas.pdf", page)
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=["--no-sandbox"])
        index = (atlas / "index.html").resolve().as_uri()
        _shoot(browser, index, (1280, 800), HERE / "map_index.png")
        _shoot(browser, f"{index}#page-{page:03d}", (1280, 800), HERE / "screen.png")
        _shoot(browser, f"{index}#page-{page:03d}", (390, 844), HERE / "phone.png", by_finger=True)
        browser.close()


def _best_page(atlas: Path) -> int:
    """Return the number of the page with the most to show: known depth all the way, a view from the air, few photos."""
    document = json.loads((atlas / "atlas.json").read_text(encoding="utf-8"))
    aerial = {photo["id"] for photo in document["photos"] if photo["kind"] == "aerial" and photo["reaches_seen"]}

    def worth(page: dict) -> tuple[bool, bool, int]:
        known = all(depth_m is not None for _, depth_m in (page["depth"] or {"profile_m": [(0, None)]})["profile_m"])
        return known, page["photos"][0] in aerial, -len(page["photos"])

    return max(document["pages"], key=worth)["number"]


def _print_page(book: Path, number: int) -> None:
    from pypdf import PdfReader

    at = PdfReader(book).page_labels.index(str(number)) + 1
    words = ["pdftoppm", "-r", "80", "-png", "-singlefile", "-f", str(at), "-l", str(at)]
    subprocess.run([*words, str(book), str(HERE / "page")], check=True)


def _shoot(browser, address: str, size: tuple[int, int], target: Path, *, by_finger: bool = False) -> None:
    viewport = {"width": size[0], "height": size[1]}
    tab = browser.new_page(viewport=viewport, has_touch=by_finger, is_mobile=by_finger)
    tab.goto(address)
    tab.wait_for_timeout(1500)
    tab.screenshot(path=target)
    tab.close()


if __name__ == "__main__":
    main(Path(sys.argv[1]))
