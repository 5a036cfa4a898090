"""Reads an atlas as a person does, in either browser: Chromium through Playwright, Firefox through WebDriver BiDi.

Both open files only, ask nothing of the network, and answer the same few questions. Firefox speaks the W3C's protocol
itself (https://www.w3.org/TR/webdriver-bidi/), so that the distribution's own browser serves.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest
from browser import LOCAL, launched, visit

# Nothing of the world outside, no first-run pages, no questions; motion reduced as in the other browser.
_PREFERENCES = {
    "network.proxy.type": 1,
    "network.proxy.http": "127.0.0.1",
    "network.proxy.http_port": 9,
    "network.proxy.ssl": "127.0.0.1",
    "network.proxy.ssl_port": 9,
    "geo.prompt.testing": True,
    "geo.prompt.testing.allow": False,
    "ui.prefersReducedMotion": 1,
    "browser.shell.checkDefaultBrowser": False,
    "datareporting.policy.dataSubmissionEnabled": False,
    "app.update.enabled": False,
    "dom.disable_beforeunload": True,
}
_CENTRE = """(() => { const node = document.querySelector(%s); node.scrollIntoView({block: "center"});
const box = node.getBoundingClientRect(); return [box.x + box.width / 2, box.y + box.height / 2]; })()"""
_KEYS = {"Enter": "\ue007", "Escape": "\ue00c", "ArrowRight": "\ue014", "ArrowLeft": "\ue012"}


class Reader:
    """What a journey needs of a browser."""

    def go(self, anchor: str = "") -> None:
        """Open the atlas at an address, as a bookmark would."""
        raise NotImplementedError

    def js(self, expression: str) -> Any:
        """Return what an expression is worth in the page."""
        raise NotImplementedError

    def tap(self, css: str) -> None:
        """Press the middle of an element."""
        raise NotImplementedError

    def tap_at(self, x: float, y: float) -> None:
        """Press a place of the window."""
        raise NotImplementedError

    def type(self, css: str, text: str) -> None:
        """Write into a field."""
        raise NotImplementedError

    def press(self, key: str) -> None:
        """Press a key."""
        raise NotImplementedError

    def wait(self, ms: float) -> None:
        """Let the page work."""
        raise NotImplementedError

    def until(self, truth: str) -> None:
        """Wait for an expression to hold."""
        for _ in range(400):
            if self.js(truth):
                return
            self.wait(25)
        raise AssertionError(f"never came true: {truth}")

    def choose(self, css: str, value: str) -> None:
        """Choose an option of a select."""
        node = f"document.querySelector({json.dumps(css)})"
        event = "new Event('change', {bubbles: true})"
        self.js(f"(() => {{ {node}.value = {json.dumps(value)}; {node}.dispatchEvent({event}); return true; }})()")

    def text(self, css: str) -> str:
        """Return the words of an element, blanks single."""
        return re.sub(r"\s+", " ", self.js(f"document.querySelector({json.dumps(css)}).textContent")).strip()

    def sees(self, css: str) -> bool:
        """Tell whether an element takes room in the window."""
        return self.js(
            f"(() => {{ const node = document.querySelector({json.dumps(css)}); if (!node) return false;"
            " const b = node.getBoundingClientRect(); return b.width > 0 && b.height > 0 && b.top < innerHeight"
            " && b.bottom > 0 && b.left < innerWidth && b.right > 0; })()"
        )


class _Chromium(Reader):
    def __init__(self, tab: Any) -> None:
        self.tab, self.page = tab, tab.page

    def go(self, anchor: str = "") -> None:
        self.tab.go(anchor)

    def js(self, expression: str) -> Any:
        return self.page.evaluate(expression)

    def tap(self, css: str) -> None:
        self.page.locator(css).first.click()

    def tap_at(self, x: float, y: float) -> None:
        self.page.mouse.click(x, y)

    def type(self, css: str, text: str) -> None:
        self.page.locator(css).first.fill(text)

    def press(self, key: str) -> None:
        self.page.keyboard.press(key)

    def wait(self, ms: float) -> None:
        self.page.wait_for_timeout(ms)


class _Firefox(Reader):
    def __init__(self, socket: Any, url: str, size: tuple[int, int]) -> None:
        self.socket, self.url, self.number = socket, url, 0
        self.outside: list[str] = []
        self._ask("session.new", capabilities={})
        self.context = self._ask("browsingContext.getTree")["contexts"][0]["context"]
        self._ask("session.subscribe", events=["network.beforeRequestSent"])
        viewport = {"width": size[0], "height": size[1]}
        self._ask("browsingContext.setViewport", context=self.context, viewport=viewport)

    def _ask(self, method: str, **params: Any) -> Any:
        self.number += 1
        self.socket.send(json.dumps({"id": self.number, "method": method, "params": params}))
        while True:
            answer = json.loads(self.socket.recv(timeout=60))
            if answer.get("method") == "network.beforeRequestSent":
                url = answer["params"]["request"]["url"]
                self.outside += [] if url.startswith((*LOCAL, "blob:", "resource:", "chrome:")) else [url]
            if answer.get("id") == self.number:
                assert answer["type"] == "success", answer
                return answer["result"]

    def go(self, anchor: str = "") -> None:
        for url in ("about:blank", self.url + anchor):
            self._ask("browsingContext.navigate", context=self.context, url=url, wait="complete")

    def js(self, expression: str) -> Any:
        found = self._ask(
            "script.evaluate",
            expression=f"(async () => JSON.stringify([await ({expression})]))()",
            target={"context": self.context},
            awaitPromise=True,
        )
        assert found["type"] == "success", found
        return json.loads(found["result"]["value"])[0]

    def tap(self, css: str) -> None:
        self.tap_at(*self.js(_CENTRE % json.dumps(css)))

    def tap_at(self, x: float, y: float) -> None:
        steps = [
            {"type": "pointerMove", "x": round(x), "y": round(y)},
            {"type": "pointerDown", "button": 0},
            {"type": "pointerUp", "button": 0},
        ]
        self._act({"type": "pointer", "id": "finger", "actions": steps})

    def type(self, css: str, text: str) -> None:
        self.tap(css)
        self.js(f"(() => {{ document.querySelector({json.dumps(css)}).select(); return true; }})()")
        self._keys(text)

    def press(self, key: str) -> None:
        self._keys([_KEYS.get(key, key)])

    def _keys(self, keys: Any) -> None:
        steps = [{"type": kind, "value": key} for key in keys for kind in ("keyDown", "keyUp")]
        self._act({"type": "key", "id": "keyboard", "actions": steps})

    def _act(self, source: dict[str, Any]) -> None:
        self._ask("input.performActions", context=self.context, actions=[source])

    def wait(self, ms: float) -> None:
        self.js(f"new Promise(done => setTimeout(() => done(true), {ms}))")


@contextmanager
def reading(browser: str, index: Path, size: tuple[int, int]) -> Iterator[Reader]:
    """Open an atlas; on leaving, a request to anywhere but its files is a failure."""
    opened = _in_chromium(index, size) if browser == "chromium" else _in_firefox(index, size)
    with opened as reader:
        yield reader


@contextmanager
def _in_chromium(index: Path, size: tuple[int, int]) -> Iterator[Reader]:
    with launched() as chromium, visit(chromium, index, size) as tab:
        yield _Chromium(tab)


@contextmanager
def _in_firefox(index: Path, size: tuple[int, int]) -> Iterator[Reader]:
    from websockets.sync.client import connect

    with TemporaryDirectory() as profile:
        lines = (f"user_pref({json.dumps(name)}, {json.dumps(value)});" for name, value in _PREFERENCES.items())
        (Path(profile) / "user.js").write_text("\n".join(lines))
        command = [_firefox(), "--headless", "--no-remote", "--profile", profile, "--remote-debugging-port", "0"]
        with subprocess.Popen(command, stderr=subprocess.PIPE, stdout=subprocess.DEVNULL, text=True) as firefox:
            try:
                address = next(found[0] for line in firefox.stderr if (found := re.findall(r"ws://\S+", line)))
                with connect(f"{address}/session", max_size=None, proxy=None) as socket:
                    reader = _Firefox(socket, index.as_uri(), size)
                    yield reader
                    assert reader.outside == []
            finally:
                firefox.kill()


def _firefox() -> str:
    """Find Firefox, or skip the test; on a build server its absence is a failure."""
    path = os.environ.get("FIREFOX") or shutil.which("firefox-esr") or shutil.which("firefox")
    if path:
        return path
    why = "Firefox is not installed; set FIREFOX to its path"
    if os.environ.get("CI"):
        pytest.fail(why)
    pytest.skip(why)
