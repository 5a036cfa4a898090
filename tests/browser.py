"""Drives the system's Chromium for tests of the offline atlas: from a file, no network, every complaint kept."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

import pytest

PHONE, DESKTOP = (360, 740), (1280, 800)
SIZES = (PHONE, DESKTOP)
LOCAL = ("file:", "data:", "about:")


@dataclass
class Visit:
    """One browser tab, and what it complained about or asked for from elsewhere."""

    page: object
    url: str
    complaints: list[str] = field(default_factory=list)
    outside: list[str] = field(default_factory=list)

    def go(self, anchor: str = "") -> None:
        """Open the atlas at an address, as a bookmark would, and wait until it stands."""
        self.page.goto("about:blank")
        self.page.goto(self.url + anchor)

    def until(self, truth: str) -> None:
        """Wait for an expression to hold; asked from outside, since the page's policy forbids it to evaluate text."""
        for _ in range(200):
            if self.page.evaluate(truth):
                return
            self.page.wait_for_timeout(25)
        raise AssertionError(f"never came true: {truth}")

    def hash(self) -> str:
        """Return the part of the address after the file."""
        return self.page.evaluate("location.hash")


def chromium_path() -> str:
    """Find Chromium, or skip the test; on a build server its absence is a failure."""
    path = os.environ.get("CHROMIUM") or shutil.which("chromium")
    if path:
        return path
    why = "Chromium is not installed; set CHROMIUM to its path"
    if os.environ.get("CI"):
        pytest.fail(why)
    pytest.skip(why)


@contextmanager
def launched() -> Iterator[object]:
    """Launch one browser for several visits."""
    from playwright.sync_api import sync_playwright

    path = chromium_path()
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=["--no-sandbox"])
        yield browser
        browser.close()


@contextmanager
def visit(browser, index: Path, size: tuple[int, int] = DESKTOP, **options) -> Iterator[Visit]:
    """Open a tab that refuses everything but files; on leaving, any complaint or outside request is a failure."""
    width, height = size
    touch = size == PHONE
    context = browser.new_context(
        viewport={"width": width, "height": height},
        has_touch=touch,
        is_mobile=touch,
        reduced_motion="reduce",
        **options,
    )
    tab = Visit(context.new_page(), index.as_uri())

    def route(route) -> None:
        if route.request.url.startswith(LOCAL):
            route.continue_()
        else:
            route.abort()

    context.route("**/*", route)
    tab.page.on("request", lambda r: r.url.startswith(LOCAL) or tab.outside.append(r.url))
    # A picture still on its way when the tab goes elsewhere is dropped by the browser: no fault of the page.
    tab.page.on("requestfailed", lambda r: "ABORTED" in r.failure or tab.complaints.append(f"{r.failure}: {r.url}"))
    tab.page.on("console", lambda m: m.type in ("error", "warning") and tab.complaints.append(m.text))
    tab.page.on("pageerror", lambda e: tab.complaints.append(str(e)))
    tab.page.on("dialog", lambda d: (tab.complaints.append(f"dialog: {d.message}"), d.dismiss()))
    try:
        yield tab
    finally:
        context.close()
    assert tab.complaints == [], tab.complaints
    assert tab.outside == [], tab.outside


def serious_faults(tab: Visit) -> list[tuple[str, list[str]]]:
    """Return what axe-core finds that is serious or critical, with where it stands."""
    from axe_playwright_python.sync_playwright import Axe

    # It may not fetch style sheets: the page's policy forbids it, and it reads them from the document as well.
    found = Axe().run(tab.page, options={"resultTypes": ["violations"], "preload": False}).response["violations"]
    bad = [fault for fault in found if fault["impact"] in ("serious", "critical")]
    return [(fault["id"], [node["target"] for node in fault["nodes"]][:3]) for fault in bad]
