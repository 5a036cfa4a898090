"""A page with its files put inside it: what refers to a file is replaced, everything else stays byte for byte."""

from __future__ import annotations

import base64
import hashlib
import html
import posixpath
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from html.parser import HTMLParser
from urllib.parse import quote, unquote

_URL = re.compile(r"url\(\s*([\"']?)([^\"')]+)\1\s*\)")
_KINDS = {
    ".ttf": "font/ttf",
    ".woff": "font/woff",
    ".woff2": "font/woff2",
    ".png": "image/png",
    ".jpg": "image/jpeg",
    ".webp": "image/webp",
    ".svg": "image/svg+xml",
}
# What a data: address may hold as it stands, within an attribute in double quotes as well.
_PLAIN = " !$'()*+,-./:;=?@_~|"
# Attributes through which an element can lead to another file.
_LEADING = {"href", "src", "srcset", "xlink:href", "poster", "data", "action", "formaction", "background", "style"}


def data_uri(name: str, data: bytes) -> str:
    """Return a file as an address that holds it; its kind is told by the ending of `name`."""
    return f"data:{_KINDS[posixpath.splitext(name)[1].lower()]};base64,{base64.b64encode(data).decode('ascii')}"


def svg_uri(svg: str) -> str:
    """Return a drawing as an address that holds it; percent signs cost a fraction of what base64 does here."""
    return f"data:image/svg+xml,{quote(svg.strip(), safe=_PLAIN)}"


def inline_css(css: str, folder: str, file_uri: Callable[[str], str]) -> str:
    """Put what a style sheet in `folder` refers to inside it; what begins with # or data: stays.

    `file_uri` takes the name of a file, counted from the page, and returns its address.
    """

    def put(found: re.Match[str]) -> str:
        name = found.group(2)
        if name.startswith(("#", "data:")):
            return found.group()
        return f'url("{file_uri(posixpath.normpath(posixpath.join(folder, unquote(name))))}")'

    # An end tag would end the element, whatever it stands in; CSS reads \/ as a plain slash.
    return re.sub(r"</(style)", r"<\\/\1", _URL.sub(put, _lines(css)), flags=re.IGNORECASE)


def inline_js(script: str) -> str:
    """Return a script that can stand within an element: what could end it is written in another way.

    The rules are those of HTML, "Restrictions for contents of script elements"; in strings and patterns both are the
    same text to JavaScript. A source map is another file, which only whoever mends the script looks for.
    """
    script = re.sub(r"^//# sourceMappingURL=.*$", "", _lines(script), flags=re.MULTILINE)
    return re.sub(r"</(script)", r"<\\/\1", script.replace("<!--", r"<\!--"), flags=re.IGNORECASE)


def content_hash(text: str) -> str:
    """Return the source expression of an inline element with this content (CSP 3, section 2.3.1)."""
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode('utf-8')).digest()).decode('ascii')}'"


def content_policy(scripts: Sequence[str], styles: Sequence[str]) -> str:
    """Return a policy that allows these inline elements, pictures and faces held in the page, and nothing else."""
    return (
        f"default-src 'none'; script-src {' '.join(map(content_hash, scripts))}; "
        f"style-src {' '.join(map(content_hash, styles))}; img-src data:; font-src data:; connect-src 'none'; "
        "base-uri 'none'; form-action 'none'"
    )


def _lines(text: str) -> str:
    # A reader of HTML turns every line ending into one kind before the hash is taken.
    return text.replace("\r\n", "\n").replace("\r", "\n")


@dataclass(frozen=True, slots=True)
class Tag:
    """A start tag: its name, its attributes in order, and whether it closes itself."""

    name: str
    attributes: Mapping[str, str | None]
    closed: bool

    def text(self, **changes: str | None) -> str:
        """Write the tag with attributes put in or, by None, left out; `_` in a name stands for `-`."""
        changed = {**self.attributes, **{key.replace("_", "-"): value for key, value in changes.items()}}
        dropped = {key.replace("_", "-") for key, value in changes.items() if value is None}
        words = [
            f" {key}" if value is None else f' {key}="{html.escape(value)}"'
            for key, value in changed.items()
            if key not in dropped
        ]
        return f"<{self.name}{''.join(words)}{'/' if self.closed else ''}>"

    def leads_to(self) -> list[str]:
        """Return what it refers to outside the page."""
        values = [value for key, value in self.attributes.items() if key in _LEADING and value]
        return [value for value in values if not value.startswith(("#", "data:"))]


class Editor(HTMLParser):
    """Walks through a page and gathers replacements by place; a subclass decides in `start` and `end`.

    What `self.put` is given may be text or anything else that `parts` is to hand back in its place.
    """

    def __init__(self, text: str) -> None:
        super().__init__(convert_charrefs=False)
        self.source = text
        self.edits: list[tuple[int, int, object]] = []
        self._line_starts = [0, *(found.end() for found in re.finditer("\n", text))]

    def walk(self) -> list[object]:
        """Return the page as parts in order: its own text, and what was put in."""
        self.feed(self.source)
        self.close()
        parts: list[object] = []
        at = 0
        for start, stop, new in sorted(self.edits, key=lambda edit: edit[:2]):
            parts += [self.source[at:start], new]
            at = stop
        return [*parts, self.source[at:]]

    def start(self, tag: Tag, begin: int, stop: int) -> None:
        """Decide on a start tag that stands from `begin` to before `stop`."""

    def end(self, name: str, begin: int, stop: int) -> None:
        """Decide on an end tag."""

    def put(self, begin: int, stop: int, new: object) -> None:
        """Replace what stands from `begin` to before `stop`."""
        self.edits.append((begin, stop, new))

    def line_end(self, stop: int) -> int:
        """Return the place after the line break that follows, if nothing else does: no empty line stays behind."""
        return stop + 1 if self.source[stop : stop + 1] == "\n" else stop

    def _at(self) -> int:
        line, column = self.getpos()
        return self._line_starts[line - 1] + column

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Pass on a start tag with its place."""
        begin, text = self._at(), self.get_starttag_text() or ""
        self.start(Tag(tag, dict(attrs), text.endswith("/>")), begin, begin + len(text))

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Pass on a tag that closes itself; no end tag follows."""
        self.handle_starttag(tag, attrs)

    def handle_endtag(self, tag: str) -> None:
        """Pass on an end tag with its place."""
        begin = self._at()
        self.end(tag, begin, self.source.index(">", begin) + 1)
