"""Photos of the edition before that show a bank again, on geometry made by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest
from sample_atlas import CRS, make_sample_atlas
from shapely import Polygon

from atlasgen.compose.repeat_words import repeat_notes
from atlasgen.measure.former_repeats import find_former_repeats
from atlasgen.model import ComposeRules, Measured, PointM
from atlasgen.model.repeats import RepeatRules
from atlasgen.model.views import ReachSeen, Stretch, View
from atlasgen.place.geo import Projection

ATLAS, PROJECTION = make_sample_atlas(), Projection(CRS)
REACHES = ATLAS.placed.reaches
PHOTO = replace(
    ATLAS.placed.photos[0],
    point=PointM(0.0, 0.0),
    heading_deg_true=Measured(10.0, "EXIF, true", 2.0),
    height_above_water_m=Measured(60.0, "a sample"),
)


def view(*reaches: str) -> View:
    """Show reaches whole, 100 m off."""
    stretch = Stretch("S", 0.0, 100.0, 100.0, 80.0, 5.0, 6.0, 1.0)
    seen = tuple(ReachSeen(reach, 1.0, 100.0, 80.0, 5.0, 1.0) for reach in reaches)
    return View(PHOTO.id, Polygon(), False, 3000.0, None, (stretch,), seen)


def before(x_m: float = 5.0, **other):
    """Return an edition with one photo, the second of its page 7."""
    at = PROJECTION.lonlat(PointM(x_m, 0.0))
    row = {
        "id": "p-old",
        "taken": "2025-03-04T15:00:00Z",
        "lon": at.lon_deg,
        "lat": at.lat_deg,
        "heading_deg_true": 355.0,
        "height_above_water_m": 60.0,
        "stage_m": -0.43,
        "page": 7,
        "reaches_seen": [{"reach": "S-0003", "share": 1.0}],
    } | other
    return {
        "survey": {"edition": "2025.1"},
        "photos": [row],
        "pages": [{"number": 7, "photos": ["p-other", row["id"]]}],
    }


def found(previous, seen: View | None = None):
    views = {PHOTO.id: seen or view("S-0003")}
    return find_former_repeats((PHOTO,), views, REACHES, previous, PROJECTION, RepeatRules())


def test_a_photo_of_the_edition_before_is_named_with_its_page():
    """5 m away and turned by 15 degrees, of the same reach."""
    (former,) = found(before())
    assert (former.photo, former.edition, former.page, former.number) == (PHOTO.id, "2025.1", 7, 2)
    assert (former.apart_m, former.turn_deg, former.stage_m) == (pytest.approx(5.0, abs=0.01), 15.0, -0.43)
    (note,) = repeat_notes([PHOTO], (), {}, {}, ComposeRules("Sample", "1"), (former,))
    assert [sentence.text for sentence in note.sentences] == [
        "Photo 1 repeats one of the edition 2025.1, of 4 March 2025, taken 5 m away: photo 2 on page 7 there.",
        "The water then stood 1.4 ft below full.",
    ]


@pytest.mark.parametrize(
    "previous",
    [
        None,
        before(15.5),
        before(height_above_water_m=80.0),
        before(heading_deg_true=340.0),
        before(heading_deg_true=None),
        before(taken=None),
        before(page=None),
        before(reaches_seen=[{"reach": "S-0009", "share": 1.0}]),
        before(reaches_seen=None),
        before(id=PHOTO.id),
    ],
    ids=["none", "far", "high", "turned", "no way", "no time", "no page", "elsewhere", "no view", "itself"],
)
def test_what_is_not_alike_or_not_known_is_no_repeat(previous):
    """The same limits as within a survey; a photo that is in both editions does not repeat itself."""
    assert found(previous) == ()


def test_half_of_what_either_shows_is_shared():
    """Of one reach and nine tenths of the next one is more than half; of three it is not."""
    more = view("S-0003", "S-0004")
    first, second = more.reaches
    assert len(found(before(), replace(more, reaches=(first, replace(second, share=0.9))))) == 1
    assert found(before(), view("S-0003", "S-0004", "S-0005")) == ()
