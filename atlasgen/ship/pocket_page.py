"""The page of the pocket edition: index.html of an edition with its files inside, and places for its pictures."""

from __future__ import annotations

import html
import posixpath
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any
from urllib.parse import unquote

from atlasgen.errors import InputFault
from atlasgen.model.wording import speaking, spoken_here
from atlasgen.resources import resource
from atlasgen.ship.holders import Holder
from atlasgen.ship.inlining import Editor, Tag, content_policy, data_uri, inline_css, inline_js
from atlasgen.ship.pocket_fonts import fitted_face
from atlasgen.ship.pocket_photos import Small
from atlasgen.write.spoken import say_html

INDEX = "index.html"
_DATA = "assets/data.js"
GENERATOR = '<meta name="generator" content="atlasgen pocket 1">'
_AGAIN = "Build the edition again with this version of atlasgen."
_LANGUAGE = re.compile(r'<html lang="([a-z]+)"')
_PICTURE = re.compile(r"^(?:photos|thumbs)/([^/]+)\.jpg$")


@dataclass(frozen=True, slots=True)
class PageWords:
    """What is put into the page, as HTML, in the page's language; faults are told in English."""

    language: str
    door: str
    elsewhere: str
    licence: str
    left_out: str


def page_words(spoken: str) -> PageWords:
    """Return the words for a page in a language."""
    with speaking(spoken):
        left_out = f'<span class="left-out">{say_html("pocket-left-out")}</span>'
        ends = f"{say_html('pocket-elsewhere')}</span>"
        return PageWords(spoken, say_html("pocket-door"), ends, say_html("pocket-licence"), left_out)


@dataclass(frozen=True, slots=True)
class PhotoPlace:
    """Where a photograph stands: its file in the edition, its img element, and its number on the page from 0."""

    file: str
    tag: Tag
    number: int

    def text(self, small: Small | None, left_out: str) -> str:
        """Return the element with the picture in it, or words where it is left out."""
        return self.tag.text(src=data_uri("photo.webp", small.data)) if small else left_out


@dataclass(frozen=True, slots=True)
class DrawingPlace:
    """Where a drawing stands: its file in the edition, its element, and the attribute that leads to the drawing."""

    file: str
    tag: Tag
    key: str

    def text(self, uri: str) -> str:
        """Return the element with the drawing in it."""
        return self.tag.text(**{self.key: uri})


@dataclass(frozen=True, slots=True)
class PocketPage:
    """The page in parts: text, places, and None where it says what it holds; the drawings as SVG, by file.

    `lacks_pictures`: the edition has pictures of the bed, which this page cannot hold.
    """

    parts: tuple[str | PhotoPlace | DrawingPlace | None, ...]
    drawings: Mapping[str, str]
    title: str
    words: PageWords
    lacks_pictures: bool = False

    @property
    def photos(self) -> list[PhotoPlace]:
        """Return the photographs in the order of the page."""
        return [part for part in self.parts if isinstance(part, PhotoPlace)]

    def pieces(self, drawings: Mapping[str, str], photos: Mapping[str, Small], words: str) -> Iterator[str]:
        """Yield the finished page with the addresses of drawings and the photographs, by file."""
        for part in self.parts:
            if isinstance(part, PhotoPlace):
                yield part.text(photos.get(part.file), self.words.left_out)
            elif isinstance(part, DrawingPlace):
                yield part.text(drawings[part.file])
            else:
                yield words if part is None else part


def read_page(holder: Holder) -> PocketPage:
    """Read an edition's index.html and all that it needs but the photographs.

    Raises
    ------
    InputFault
        A file of the edition is not there, or the page refers to something that cannot stand in one file.
    """
    files = _Files(holder)
    source = files.text(INDEX)
    editor = _Page(source, files)
    parts = editor.walk()
    text = "".join((*editor.scripts, *(part for part in parts if isinstance(part, str)), editor.words.left_out))
    own = resource("templates", "web", "css", "pocket.css").read_text(encoding="utf-8")
    text = html.unescape(text)
    letters = frozenset(text + text.upper()) - frozenset("\n\r\t")
    style = "\n".join([*(files.style(name, letters) for name in editor.sheets), own])
    # A style sheet is put in last, since its faces need the letters of everything else.
    filled = {
        _STYLE: f"<style>{style}</style>\n",
        _POLICY: f'{GENERATOR}\n<meta http-equiv="Content-Security-Policy" '
        f'content="{content_policy(editor.scripts, [style])}">',
        _SCRIPTS: "".join(f"<script>{script}</script>\n" for script in editor.scripts[editor.early :]),
        _WORDS: None,
    }
    whole: list[Any] = [filled[part] if isinstance(part, _Mark) else part for part in parts]
    return PocketPage(tuple(whole), editor.drawings, editor.title, editor.words, _PICTURES in source)


def language_of(page: str) -> str:
    """Return the language that an edition's page says it is in; English where it says none that we speak."""
    found = _LANGUAGE.search(page)
    return spoken_here(found and found.group(1))


@dataclass(frozen=True)
class _Mark:
    """A place of which only is known later what stands there."""

    name: str


# The row that chooses pictures of the bed, whose tiles are files beside the page.
_PICTURES = '<div class="pictures"'
_STYLE, _POLICY, _SCRIPTS, _WORDS = map(_Mark, ("style", "policy", "scripts", "words"))


class _Files:
    """The files of an edition, each as the page needs it."""

    def __init__(self, holder: Holder) -> None:
        self.holder = holder
        self.uri = cache(self._uri)

    def bytes(self, name: str) -> bytes:
        try:
            with self.holder.open(name) as file:
                return file.read()
        except OSError as error:
            why = f"cannot be read ({error.strerror or error})"
            raise InputFault(name, why, "every file that the page needs", "Verify the edition.") from None

    def text(self, name: str) -> str:
        return self.bytes(name).decode("utf-8", "replace")

    def style(self, name: str, letters: frozenset[str]) -> str:
        def put(file: str) -> str:
            if not file.endswith(".ttf"):
                return self.uri(file)
            ending, face = fitted_face(self.bytes(file), letters)
            return data_uri(f"face{ending}", face)

        return inline_css(self.text(name), posixpath.dirname(name), put)

    def script(self, name: str) -> str:
        text = inline_js(self.text(name))
        # The data name photographs by the files they came from, which may lie in a folder of that name.
        if name != _DATA and ('"thumbs/' in text or '"photos/' in text):
            raise InputFault(name, "looks for pictures in files", "a script that takes them from the page", _AGAIN)
        return text

    def _uri(self, name: str) -> str:
        try:
            return data_uri(name, self.bytes(name))
        except KeyError:
            raise InputFault(name, "is of a kind that a page cannot hold", "a picture or a face", _AGAIN) from None


class _Page(Editor):
    """Puts the files of an edition into its page."""

    def __init__(self, text: str, files: _Files) -> None:
        super().__init__(text)
        self.files = files
        self.words = page_words(language_of(text))
        self.sheets: list[str] = []
        self.scripts: list[str] = []
        self.early = 0
        self.drawings: dict[str, str] = {}
        self.title = ""
        self._late: list[str] = []
        self._licences: list[str] = []
        self._open: tuple[int, Tag] | None = None
        self._closing = ""
        self._number = 0
        self._listed = False
        self._handlers = {
            "title": self._title,
            "meta": self._meta,
            "link": self._link,
            "script": self._script,
            "article": self._article,
            "section": self._section,
            "ul": self._ul,
            "a": self._a,
            "img": self._img,
            "image": self._image,
        }

    def start(self, tag: Tag, begin: int, stop: int) -> None:
        if tag.name in self._handlers:
            self._handlers[tag.name](tag, begin, stop)
        elif tag.leads_to():
            self._refuse(tag)

    def end(self, name: str, begin: int, stop: int) -> None:
        if name == "title" and not self.title:
            self.title = html.unescape(self.source[self._open[0] : begin]) if self._open else ""
            self._open = None
        elif name == "script" and self._open:
            self._script_ends(*self._open, stop)
            self._open = None
        elif name == "a" and self._closing:
            self.put(begin, stop, self._closing)
            self._closing = ""
        elif name == "footer":
            self.put(begin, begin, "".join(map(self._licence, self._licences)))
        elif name == "body":
            self._body_ends(begin)

    def _refuse(self, tag: Tag) -> None:
        why = f"a {tag.name} element that leads to {tag.leads_to()[0][:80]!r}"
        raise InputFault(INDEX, why, "references that can stand in one file", _AGAIN)

    def _title(self, tag: Tag, begin: int, stop: int) -> None:
        self._open = (stop, tag)

    def _meta(self, tag: Tag, begin: int, stop: int) -> None:
        if tag.attributes.get("http-equiv", "") == "Content-Security-Policy":
            self.put(begin, stop, _POLICY)

    def _link(self, tag: Tag, begin: int, stop: int) -> None:
        if tag.attributes.get("rel") == "stylesheet":
            self.put(begin, self.line_end(stop), "" if self.sheets else _STYLE)
            self.sheets.append(unquote(tag.attributes.get("href") or ""))
        elif tag.leads_to():
            self.put(begin, self.line_end(stop), "")

    def _script(self, tag: Tag, begin: int, stop: int) -> None:
        self._open = (begin, tag)

    def _script_ends(self, begin: int, tag: Tag, stop: int) -> None:
        name = unquote(tag.attributes.get("src") or "")
        if not name:
            return  # not of the edition: without a hash in the policy it does not run
        if "defer" in tag.attributes:
            # Within the page nothing is deferred: what needs all of it comes at its end.
            self._late.append(self.files.script(name))
            self.put(begin, self.line_end(stop), "")
        else:
            self.scripts.append(self.files.script(name))
            self.early += 1
            self.put(begin, stop, f"<script>{self.scripts[-1]}</script>")

    def _body_ends(self, begin: int) -> None:
        own = resource("templates", "web", "js", "pocket.js").read_text(encoding="utf-8")
        # Before the last, which starts everything, so that a click on the chosen photograph is heard here first.
        self.scripts += [*self._late[:-1], inline_js(own), *self._late[-1:]]
        self.put(begin, begin, _SCRIPTS)

    def _article(self, tag: Tag, begin: int, stop: int) -> None:
        self._number = 0

    def _section(self, tag: Tag, begin: int, stop: int) -> None:
        if tag.attributes.get("id") == "about":
            self.put(stop, stop, _WORDS)

    def _ul(self, tag: Tag, begin: int, stop: int) -> None:
        if not self._listed and tag.attributes.get("class") == "doors":
            self._listed = True
            self.put(stop, stop, f'\n    <li><a href="#pocket">{self.words.door}</a></li>')

    def _a(self, tag: Tag, begin: int, stop: int) -> None:
        if tag.attributes.get("class") == "frame":
            self.put(begin, stop, tag.text(href=f"#photo-{tag.attributes.get('data-photo')}"))
        elif tag.leads_to():
            name = unquote(tag.leads_to()[0])
            is_licence = name.startswith("assets/") and name.endswith(".txt")
            self._licences += [name] if is_licence else []
            self._closing = "</span>" if is_licence else self.words.elsewhere
            self.put(begin, stop, '<span class="elsewhere">')

    def _licence(self, name: str) -> str:
        text, heading = html.escape(self.files.text(name).strip()), self.words.licence
        return f'<details class="told"><summary>{heading}</summary><p class="licence">{text}</p></details>'

    def _img(self, tag: Tag, begin: int, stop: int) -> None:
        found = _PICTURE.match(unquote(tag.attributes.get("src") or ""))
        if found:
            self.put(begin, stop, PhotoPlace(f"photos/{found.group(1)}.jpg", tag, self._number))
            self._number += 1
        else:
            self._picture(tag, begin, stop, "src")

    def _image(self, tag: Tag, begin: int, stop: int) -> None:
        found = _PICTURE.match(unquote(tag.attributes.get("href") or ""))
        if not found:
            self._picture(tag, begin, stop, "href")
            return
        # The picture stands in the list. A script shows it here too; without one the drawing above tells its number.
        box = " ".join(f'{key}="{html.escape(tag.attributes.get(key) or "")}"' for key in ("x", "y", "width", "height"))
        self.put(begin, stop, f'<rect class="turn-empty" {box}/>{tag.text(href=None, data_picture=found.group(1))}')

    def _picture(self, tag: Tag, begin: int, stop: int, key: str) -> None:
        name = unquote(tag.attributes.get(key) or "")
        if name.endswith(".svg"):
            self.drawings[name] = self.files.text(name)
            self.put(begin, stop, DrawingPlace(name, tag, key))
        elif name and not name.startswith(("#", "data:")):
            self.put(begin, stop, tag.text(**{key: self.files.uri(name)}))
