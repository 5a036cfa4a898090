"""The pocket edition: one file within its size, nothing outside it, the same bytes every time."""

from __future__ import annotations

import base64
import hashlib
import html
import io
import re
import shutil
import zipfile
from html.parser import HTMLParser

import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image
from sample_atlas import HOSTILE
from sample_pocket import make_small_edition, quick
from sample_turn import make_turned_atlas

from atlasgen.cli_pocket import pocket
from atlasgen.errors import InputFault, MissingInput, OutputRefused
from atlasgen.ship import pocket as made_by
from atlasgen.ship.inlining import content_hash, content_policy, inline_css, inline_js, svg_uri
from atlasgen.ship.pocket import write_pocket
from atlasgen.ship.pocket_drawings import coarse
from atlasgen.ship.pocket_photos import LADDER
from atlasgen.workers import pool
from atlasgen.write.svg import to_svg

FIRSTS, ALL = 6, 12


class Found(HTMLParser):
    """What a page refers to, its inline elements, its policy, and its words."""

    def __init__(self, text):
        super().__init__()
        self.references, self.words, self.policy, self.images = [], [], "", []
        self.inline = {"script": [], "style": []}
        self._in = None
        self.feed(text)
        self.close()

    def handle_starttag(self, tag, attrs):
        named = dict(attrs)
        self.references += [v for k, v in attrs if k in {"href", "src", "srcset", "poster", "data", "action"}]
        self.references += ["inline style"] if "style" in named else []
        self._in = tag
        if tag in self.inline:
            self.inline[tag].append("")
        if named.get("http-equiv") == "Content-Security-Policy":
            self.policy = named["content"]
        if tag == "img":
            self.images.append(named.get("src"))

    def handle_endtag(self, tag):
        self._in = None

    def handle_data(self, data):
        if self._in in self.inline:
            self.inline[self._in][-1] += data
        else:
            self.words.append(data)


@pytest.fixture(scope="module")
def published(tmp_path_factory):
    """Return the small edition, which no test may touch."""
    return make_small_edition(tmp_path_factory.mktemp("edition") / "atlas")


@pytest.fixture(autouse=True)
def _quick():
    with quick():
        yield


def quiet(step, done, total):
    """Show no progress."""


def write(atlas, target, most_bytes):
    result = write_pocket(atlas, target, most_bytes, quiet)
    text = target.read_bytes().decode("utf-8")
    assert (len(target.read_bytes()), sorted(target.parent.glob(".*"))) == (result.size_bytes, [])
    return result, text


@pytest.fixture(scope="module")
def smallest(published, tmp_path_factory):
    """Ask for far too little; return the least that the message names, in bytes, and the message."""
    target = tmp_path_factory.mktemp("none") / "p.html"
    with quick(), pytest.raises(InputFault) as caught:
        write_pocket(published, target, 100_000, quiet)
    message = str(caught.value)
    return round(float(re.search(r"at least ([\d.]+) MB", message).group(1)) * 1e6), message


@pytest.fixture(scope="module")
def large(published, tmp_path_factory):
    """Return the pocket edition with all the room it wants: (result, text)."""
    with quick():
        return write(published, tmp_path_factory.mktemp("large") / "p.html", 25_000_000)


def photos_of(text):
    return re.findall(r'<img src="data:image/webp;base64,([^"]+)"', text)


def test_with_room_all_photos_are_there_once_at_their_best(large):
    """Each photograph's bytes stand once in the file, upright as they were, and nothing is said of who took them."""
    result, text = large
    assert (result.photos_shown, result.photos_left_out, result.long_edge_px, result.quality) == (ALL, 0, 240, 80)
    pictures = [base64.b64decode(data) for data in photos_of(text)]
    assert (len(pictures), len(set(pictures)), text.count("data:image/webp")) == (ALL, ALL, ALL)
    for picture in pictures:
        with Image.open(io.BytesIO(picture)) as image:
            assert (image.format, image.size, dict(image.getexif())) == ("WEBP", (240, 180), {})
        assert b"A. Person" not in picture


def test_it_holds_its_size_and_uses_it(published, large, smallest, tmp_path):
    """Three sizes: never over, better with more room, and no more left out than must be."""
    between = (smallest[0] + large[0].size_bytes) // 2
    made = [write(published, tmp_path / f"{most}.html", most)[0] for most in (smallest[0], between)] + [large[0]]
    for result, most in zip(made, (smallest[0], between, 25_000_000), strict=True):
        assert result.size_bytes <= most
        assert result.photos_shown + result.photos_left_out == ALL
    assert made[0].photos_shown >= FIRSTS
    assert made[1].photos_shown == ALL
    assert made[1].size_bytes > 0.8 * between
    assert made[0].long_edge_px <= made[1].long_edge_px <= made[2].long_edge_px
    assert made[0].quality < made[1].quality < made[2].quality


def test_what_is_left_out_is_said_in_its_place_and_up_front(published, smallest, tmp_path):
    """The later a photograph stands on its page the sooner it goes; the first of a page stays."""
    result, text = write(published, tmp_path / "p.html", smallest[0])
    assert result.photos_left_out > 0
    assert text.count("This photograph is only in the full atlas.") == result.photos_left_out
    assert "left out to keep the file small" in text
    gone = [match for page in text.split("<article")[1:] for match in [re.findall(r'class="frame"[^>]*><(\w+)', page)]]
    with_photos = [page for page in gone if page]
    assert len(with_photos) == FIRSTS
    for page in with_photos:
        assert page[0] == "img"
        assert page == sorted(page)  # "img" before "span": none is shown after one that is left out


def test_too_small_a_size_names_the_smallest_that_does(smallest):
    """The message says what to write; `test_it_holds_its_size_and_uses_it` does so."""
    enough = f"{smallest[0] / 1e6:.1f}"
    assert smallest[1] == (
        "pocket edition: 0.1 MB is too small for pages, drawings and one small photograph of each page. "
        f"Expected at least {enough} MB for this atlas. Give it --megabytes {enough}."
    )


def test_nothing_leads_out_of_the_file(large):
    """Every reference is a place of the page or holds what it refers to; style sheets and scripts as well."""
    found = Found(large[1])
    assert [r[:60] for r in found.references if not (r.startswith(("#", "data:")))] == []
    urls = re.findall(r"url\(\s*[\"']?([^\"')]{1,60})", "".join(found.inline["style"]))
    assert [url for url in urls if not url.startswith(("data:", "#"))] == []
    assert "sourceMappingURL" not in large[1]
    assert sorted(set(re.findall(r"@import|srcset", "".join(found.inline["style"])))) == []


def test_the_policy_allows_these_scripts_and_no_other(large):
    """Hashes are those of the elements as a browser reads them (CSP 3, section 2.3.1), and nothing else may load."""
    found = Found(large[1])
    rules = dict(rule.strip().split(" ", 1) for rule in found.policy.split(";"))

    def hashes(kind):
        return " ".join(
            f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"
            for text in found.inline[kind]
        )

    assert rules == {
        "default-src": "'none'",
        "script-src": hashes("script"),
        "style-src": hashes("style"),
        "img-src": "data:",
        "font-src": "data:",
        "connect-src": "'none'",
        "base-uri": "'none'",
        "form-action": "'none'",
    }
    assert len(found.inline["style"]) == 1


def test_hostile_words_stay_words(large):
    """A caption with markup is text in the page, and none of it ends a script."""
    found = Found(large[1])
    assert HOSTILE in "".join(found.words)
    assert all("</script" not in text.lower() and "<!--" not in text for text in found.inline["script"])


def test_it_says_what_it_is_and_what_only_the_full_atlas_has(large):
    """A section at the top of the About part; companions become words, and the letters bring their licence."""
    text = large[1]
    about = text[text.index('id="about"') :]
    atlas = make_turned_atlas()
    title = f"This is the pocket edition of {atlas.survey.title}, edition {atlas.survey.edition}:"
    assert about.index(html.escape(title)) < about.index('id="how-to-read"')
    assert "12 photographs, at most 240 pixels long" in about
    assert '<span class="elsewhere">The book (PDF), in the full atlas</span>' in text
    assert "SIL OPEN FONT LICENSE" in about
    assert '<a href="#pocket">' in text[: text.index('id="about"')]


def test_same_edition_same_bytes_from_folder_and_zip(published, large, tmp_path):
    """Twice from the folder and once from a zip of it."""
    archive = tmp_path / "atlas.zip"
    with zipfile.ZipFile(archive, "w") as packed:
        for file in sorted(published.rglob("*")):
            packed.write(file, f"atlas/{file.relative_to(published).as_posix()}")
    target = tmp_path / "p.html"
    for atlas in (published, archive):
        assert write(atlas, target, 25_000_000)[1] == large[1]


def test_foreign_files_are_not_written_over(published, tmp_path):
    """What is no pocket edition of ours stays; nor is one put into the edition itself."""
    target = tmp_path / "page.html"
    target.write_text("<!doctype html><p>mine", encoding="utf-8")
    for place in (target, tmp_path, published / "pocket.html"):
        with pytest.raises(OutputRefused):
            write_pocket(published, place, 25_000_000, quiet)
    with pytest.raises(MissingInput):
        write_pocket(published, tmp_path / "no" / "p.html", 25_000_000, quiet)
    assert target.read_text(encoding="utf-8") == "<!doctype html><p>mine"


def test_pictures_of_the_bed_stay_in_the_full_atlas_and_that_is_said(published, tmp_path):
    """Their tiles are files; the pocket edition has none of them and says where they are."""
    atlas = shutil.copytree(published, tmp_path / "atlas")
    page = (atlas / "index.html").read_text(encoding="utf-8")
    (atlas / "index.html").write_text(page.replace("</main>", '<div class="pictures"></div></main>'), encoding="utf-8")
    told = []
    for number, edition in enumerate((published, atlas)):
        write_pocket(edition, tmp_path / f"{number}.html", 25_000_000, quiet)
        told.append(
            "the shaded relief, and what the crew gave" in (tmp_path / f"{number}.html").read_text(encoding="utf-8")
        )
    assert told == [False, True]


@pytest.mark.parametrize(
    ("file", "content", "words"),
    [
        ("photos/p-0000000007.jpg", b"\xff\xd8\xff", "photos/p-0000000007.jpg: cannot be read"),
        ("drawings/overview.svg", None, "drawings/overview.svg: cannot be read"),
        ("assets/js/atlas.js", b'image.src = "thumbs/" + id;', "looks for pictures in files"),
        ("index.html", b'<iframe src="other.html"></iframe>', "a iframe element that leads to 'other.html'"),
    ],
)
def test_an_edition_that_is_not_whole_is_told_by_name(published, tmp_path, file, content, words):
    """A damaged or missing file, scripts of another time, a page that holds what cannot be held: nothing is written."""
    atlas = shutil.copytree(published, tmp_path / "atlas")
    if content is None:
        (atlas / file).unlink()
    else:
        (atlas / file).write_bytes(content)
    with pytest.raises(InputFault, match=re.escape(words)):
        write_pocket(atlas, tmp_path / "p.html", 25_000_000, quiet)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["atlas"]


def test_a_failing_disk_is_noticed(published, large, tmp_path, monkeypatch):
    """What is read back is compared; an earlier pocket edition stays."""
    target = tmp_path / "p.html"
    target.write_text(large[1][:3000], encoding="utf-8", newline="\n")
    monkeypatch.setattr(made_by, "file_sha256", lambda path: "0" * 64)
    with pytest.raises(InputFault, match="read back"):
        write_pocket(published, target, 25_000_000, quiet)
    assert [path.name for path in tmp_path.iterdir()] == ["p.html"]
    assert target.stat().st_size == 3000


def test_the_command_says_what_it_made(published, tmp_path, monkeypatch):
    """With real worker processes, over an earlier one; and a size that is none is refused."""
    monkeypatch.setattr(made_by, "pool", pool)
    target = tmp_path / "p.html"
    for _ in range(2):
        command = [str(published), "--to", str(target), "--megabytes", "25", "--workers", "1", "-q"]
        result = CliRunner().invoke(pocket, command)
        assert result.exit_code == 0, result.output
    size = target.stat().st_size / 1e6
    assert result.output == f"{target}: {size:.1f} MB, 12 photos, at most 240 px long at quality 80.\n"
    assert CliRunner().invoke(pocket, [str(published), "--to", "x.html", "--megabytes", "nan"]).exit_code == 2


def test_the_ladder_goes_down_from_1600_to_320_pixels():
    """Every step is smaller in both."""
    assert (LADDER[0].long_edge_px, LADDER[0].quality) == (1600, 80)
    assert (LADDER[-1].long_edge_px, LADDER[-1].quality) == (320, 45)
    edges = [step.long_edge_px for step in LADDER]
    assert edges == sorted(set(edges), reverse=True)


def test_a_script_cannot_end_its_element():
    """The forms that HTML names in "Restrictions for contents of script elements"."""
    assert inline_js('a = "</script><!-- x";\r\n//# sourceMappingURL=a.js.map') == 'a = "<\\/script><\\!-- x";\n'
    assert inline_css('a { b: "</STYLE>" }', "", str) == 'a { b: "<\\/STYLE>" }'


def test_a_style_sheet_brings_its_files():
    """Names count from the sheet; what is a place or held already stays."""
    css = "a { b: url(../x/y.png); c: url('#d'); e: url(\"data:,\") }"
    assert inline_css(css, "assets/css", lambda name: f"<{name}>") == (
        'a { b: url("<assets/x/y.png>"); c: url(\'#d\'); e: url("data:,") }'
    )


def test_the_hash_of_an_element_is_the_published_one():
    """The example of CSP Level 2, section 4.2.5 ("alert('Hello, world.');")."""
    assert content_hash("alert('Hello, world.');") == "'sha256-qznLcsROx4GACP2dm0UCKCzCG+HiZ1guq6ZZDob/Tng='"
    assert content_policy(["a"], ["b"]).count("sha256-") == 2


def test_a_drawing_survives_its_address():
    """What a browser would decode is the drawing (RFC 2397, RFC 3986 percent-encoding)."""
    from urllib.parse import unquote

    svg = '<svg xmlns="http://www.w3.org/2000/svg"><text fill="#fff">100 % \u2192 "a" & \'b\'</text></svg>'
    uri = svg_uri(svg)
    assert unquote(uri.removeprefix("data:image/svg+xml,")) == svg
    assert not set('"<>#&') & set(uri)


def places(path):
    """Return the runs of a drawing's path as absolute points in mm."""
    runs = []
    for run in re.findall(r"M([^Mz]+)", path):
        first, _, rest = run.partition("l")
        numbers = [float(n) for n in re.findall(r"-?\d*\.?\d+", first)]
        steps = [float(n) for n in re.findall(r"-?\d*\.?\d+", rest)]
        points = [tuple(numbers)]
        for dx, dy in zip(steps[::2], steps[1::2], strict=True):
            points.append((points[-1][0] + dx, points[-1][1] + dy))
        runs.append(points)
    return runs


coordinate = st.integers(-99999, 99999).map(lambda value: value / 100)


@settings(max_examples=40)
@given(st.lists(st.tuples(coordinate, coordinate), min_size=2, max_size=30))
def test_rounding_a_drawing_never_drifts(points):
    """However long a run, each rounded point lies within 0.05 mm in x and y of one of the true ones, in order."""
    from atlasgen.write.svg import _run

    (true,), (rounded,) = (
        places(_run(points)),
        places(re.search(r'd="([^"]*)"', coarse(f'<path d="{_run(points)}"/>'))[1]),
    )
    left = iter(true)
    for x, y in rounded:
        assert any(abs(x - u) < 0.0501 and abs(y - v) < 0.0501 for u, v in left)


def test_a_rounded_drawing_is_smaller_and_keeps_its_parts():
    """The sample's largest drawing: as many elements, the same words, fewer bytes."""
    svg = to_svg(make_turned_atlas().overview)
    small = coarse(svg)
    assert len(small) < len(svg)
    label = '<text x="1"> class="a" d="M1.26 2"</text>'
    assert coarse(label) == label
    assert re.findall(r"<(path|g|text|circle)\b", small) == re.findall(r"<(path|g|text|circle)\b", svg)
    assert re.findall(r">([^<]+)</text>", small) == re.findall(r">([^<]+)</text>", svg)


def test_the_pocket_edition_speaks_the_language_of_its_page(published, tmp_path):
    """And data that name photographs by a folder called photos are no script that looks for pictures."""
    atlas = shutil.copytree(published, tmp_path / "atlas")
    page = (atlas / "index.html").read_text(encoding="utf-8")
    (atlas / "index.html").write_text(page.replace('<html lang="en"', '<html lang="de"'), encoding="utf-8")
    with (atlas / "assets" / "data.js").open("a", encoding="ascii") as data:
        data.write('ATLAS.files = ["photos/dam.jpg"];\n')
    _, text = write(atlas, tmp_path / "p.html", 25_000_000)
    assert "<h2>Die Taschenausgabe</h2>" in text
    assert "<h2>The pocket edition</h2>" not in text
