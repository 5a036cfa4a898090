"""What differs between two editions of one lake: every kind of change by its name.

`old` and `new` values are what the two editions say; None is what an edition does not know or does not say, never 0.
Ids, pages and tiles are those of the edition that is spoken of.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Literal

PartKind = Literal["layer", "source"]
PartState = Literal["new", "gone", "changed"]
ReachKind = Literal["shown", "lost", "other"]
Because = Literal["same name", "same place and time"]
DepthKind = Literal["median", "shallowest", "station"]


@dataclass(frozen=True, slots=True)
class EditionFacts:
    """How an edition calls itself, and the units it is read in."""

    title: str
    edition: str
    depth_unit: Literal["feet", "metres"]
    distance_unit: Literal["metric", "imperial"]
    depths_below: str
    shown_m: float
    photos: int
    reaches: int
    pages: int


@dataclass(frozen=True, slots=True)
class FactChange:
    """Something the survey states of itself: edition, datum, units, chart."""

    what: str
    old: str | None
    new: str | None


@dataclass(frozen=True, slots=True)
class NotCompared:
    """What could not be compared between the two editions, and why, in words."""

    what: str
    why: str


@dataclass(frozen=True, slots=True)
class PhotoRef:
    """A photo of one edition: `reach` is that of its page, `nearest` the one it stands nearest to."""

    id: str
    file: str
    page: int
    reach: str
    nearest: str
    tile: str | None
    lon: float
    lat: float
    heading_deg_true: float | None
    caption: str


@dataclass(frozen=True, slots=True)
class PhotoShift:
    """How two accounts of one station differ.

    `moved_m` and `turned_deg` (clockwise positive) are None where they are the same within rounding, and `turned_deg`
    where one of the directions is not known. `heading` says whether the direction is known now and was not, or the
    other way round. `reach` is whether the photo has come to another reach.
    """

    moved_m: float | None
    turned_deg: float | None
    heading: Literal["known now", "not known any more"] | None
    reach: bool

    @property
    def any(self) -> bool:
        """Whether anything differs."""
        return bool(self.moved_m is not None or self.turned_deg is not None or self.heading or self.reach)


@dataclass(frozen=True, slots=True)
class PhotoReplaced:
    """Other bytes in the place of a photo: under the same name, or taken at the same place and time."""

    old: PhotoRef
    new: PhotoRef
    because: Because
    shift: PhotoShift


@dataclass(frozen=True, slots=True)
class PhotoMoved:
    """The same picture, told to stand or look elsewhere."""

    old: PhotoRef
    new: PhotoRef
    shift: PhotoShift


@dataclass(frozen=True, slots=True)
class PhotoPair:
    """The same picture in both editions, for a new file name or caption."""

    old: PhotoRef
    new: PhotoRef


@dataclass(frozen=True, slots=True)
class LeftOutChange:
    """A file left out of the new edition only (`old_why` None), of the old one only, or of both for another reason."""

    file: str
    old_why: str | None
    new_why: str | None


@dataclass(frozen=True, slots=True)
class ReachRef:
    """A reach of one edition and the first page that it is on, if any."""

    id: str
    name: str
    place: str | None
    tile: str | None
    length_m: float
    page: int | None


@dataclass(frozen=True, slots=True)
class ReachRenumbered:
    """The same bank under another id; `share` of it is the same, 0 to 1."""

    old: ReachRef
    new: ReachRef
    share: float


@dataclass(frozen=True, slots=True)
class ReachRedrawn:
    """A reach that kept its id while so much of its bank was redrawn that geometry alone would not know it again."""

    old: ReachRef
    new: ReachRef
    moved_m: float


@dataclass(frozen=True, slots=True)
class ReachState:
    """How a reach is photographed, before and now; `shown_m` is the length that photos show well or poorly."""

    kind: ReachKind
    old: ReachRef
    new: ReachRef
    old_state: str
    new_state: str
    old_shown_m: float
    new_shown_m: float


@dataclass(frozen=True, slots=True)
class DepthChange:
    """A depth below the same level that differs by more than both editions' bounds leave open.

    `what`: the median or the shallowest of the soundings off the bank, or the depth at a station `distance_m` out.
    `allowed_m` is the root of the sum of the squared bounds.
    """

    reach: ReachRef
    what: DepthKind
    distance_m: float | None
    old_m: float
    new_m: float
    allowed_m: float

    @property
    def deeper_m(self) -> float:
        """New less old: positive where it is deeper now."""
        return self.new_m - self.old_m


@dataclass(frozen=True, slots=True)
class TileDepths:
    """Depths off the reaches of one tile that were compared, and those that changed, the largest first.

    `median_m` is the median of new less old over everything compared; `not_judged` counts what no bound is known for.
    """

    tile: str | None
    label: str
    compared: int
    not_judged: int
    median_m: float
    changes: tuple[DepthChange, ...]


@dataclass(frozen=True, slots=True)
class DepthKnown:
    """Depths off a reach that were not known and are known now, or the other way round; `what` is in words."""

    reach: ReachRef
    known_now: bool
    what: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CoverageChange:
    """The share of the water off a reach that lies near a sounding; None where it is not known."""

    reach: ReachRef
    old_share: float | None
    new_share: float | None


@dataclass(frozen=True, slots=True)
class TileCoverage:
    """Coverage off the reaches of one tile: how many were compared, the median of new less old, what changed."""

    tile: str | None
    label: str
    compared: int
    median: float | None
    changes: tuple[CoverageChange, ...]


@dataclass(frozen=True, slots=True)
class FeatureRef:
    """A hump, ridge, hole, channel or ledge of one edition; `depth_m` is the least of what stands up, else the most."""

    id: str
    kind: str
    lon: float
    lat: float
    depth_m: float
    bound_m: float | None
    reach: str | None
    page: int | None


@dataclass(frozen=True, slots=True)
class FeatureDepth:
    """A feature of both editions whose depth differs by more than both bounds leave open."""

    old: FeatureRef
    new: FeatureRef


@dataclass(frozen=True, slots=True)
class PartChange:
    """A layer or a source of soundings that is new, gone, or stated otherwise."""

    kind: PartKind
    name: str
    state: PartState
    facts: tuple[FactChange, ...] = ()


@dataclass(frozen=True, slots=True)
class PageChange:
    """A page that has another number (both known), is new (`old` None) or gone (`new` None)."""

    old: int | None
    new: int | None
    title: str
    reach: str


@dataclass(frozen=True, slots=True)
class NoteChange:
    """A sentence of a page's notes, before and now; None where there was or is none in its place."""

    page: int
    title: str
    heading: str
    old: str | None
    new: str | None


@dataclass(frozen=True, slots=True)
class FileChanges:
    """How the manifests differ: published files and inputs by name, and what made the editions."""

    added: tuple[str, ...]
    removed: tuple[str, ...]
    altered: tuple[str, ...]
    inputs_added: tuple[str, ...]
    inputs_removed: tuple[str, ...]
    inputs_altered: tuple[str, ...]
    old_made_with: str | None
    new_made_with: str | None

    @property
    def any(self) -> bool:
        """Whether anything differs."""
        return self.old_made_with != self.new_made_with or any(
            getattr(self, field.name) for field in fields(self) if field.name not in ("old_made_with", "new_made_with")
        )


@dataclass(frozen=True, slots=True)
class Changes:
    """Everything that differs between two editions, each list the largest or the first along the shore first.

    `files` is None where only what the editions say was compared.
    """

    old: EditionFacts
    new: EditionFacts
    facts: tuple[FactChange, ...] = ()
    not_compared: tuple[NotCompared, ...] = ()
    photos_added: tuple[PhotoRef, ...] = ()
    photos_removed: tuple[PhotoRef, ...] = ()
    photos_replaced: tuple[PhotoReplaced, ...] = ()
    photos_moved: tuple[PhotoMoved, ...] = ()
    photos_renamed: tuple[PhotoPair, ...] = ()
    captions: tuple[PhotoPair, ...] = ()
    left_out: tuple[LeftOutChange, ...] = ()
    reach_states: tuple[ReachState, ...] = ()
    reaches_new: tuple[ReachRef, ...] = ()
    reaches_retired: tuple[ReachRef, ...] = ()
    reaches_renumbered: tuple[ReachRenumbered, ...] = ()
    reaches_redrawn: tuple[ReachRedrawn, ...] = ()
    depths: tuple[TileDepths, ...] = ()
    depths_known: tuple[DepthKnown, ...] = ()
    coverage: tuple[TileCoverage, ...] = ()
    features_new: tuple[FeatureRef, ...] = ()
    features_gone: tuple[FeatureRef, ...] = ()
    features_changed: tuple[FeatureDepth, ...] = ()
    parts: tuple[PartChange, ...] = ()
    pages: tuple[PageChange, ...] = ()
    notes: tuple[NoteChange, ...] = ()
    files: FileChanges | None = None

    @property
    def nothing_said(self) -> bool:
        """Whether the two editions say the same."""
        apart = ("old", "new", "not_compared", "files")
        return not any(getattr(self, field.name) for field in fields(self) if field.name not in apart)

    @property
    def nothing(self) -> bool:
        """Whether the two editions say the same and, as far as files were compared, are the same."""
        return self.nothing_said and not (self.files and self.files.any)
