"""The list of shots: which device stood where, when, and looked which way.

Chainages are metres along the outer shoreline from the ramp (see shoreline.rings); the water lies on the left hand.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from functools import cache

import numpy as np

from demo_photos.make.boat import boat_at
from demo_photos.make.frame import local_time, stage_m
from demo_photos.make.render import Camera
from demo_photos.make.shoreline import rings
from demo_photos.make.terrain import DAM_Y_M, height_at

EYE_BOAT_M, EYE_BANK_M = 2.1, 1.7
DRONE, BOAT, PHONE, COMPACT = "drone", "boat", "phone", "compact"
_FOCAL_35MM = {DRONE: 24.0, BOAT: 26.0, PHONE: 27.0, COMPACT: 28.0}


@dataclass(frozen=True)
class Shot:
    """One photo to make. `file` is relative to the survey folder; `height_m` is above the water of the day.

    `traits` are words that `troubles` acts upon. Angles in degrees, heading from grid north; places in metres.
    """

    file: str
    device: str
    when: datetime
    x_m: float
    y_m: float
    height_m: float
    heading_deg: float
    pitch_deg: float
    roll_deg: float = 0.0
    width_px: int = 1600
    height_px: int = 1200
    caption: str | None = None
    traits: frozenset[str] = field(default_factory=frozenset)

    @property
    def stage_m(self) -> float:
        """Stage at the time of the shot."""
        return stage_m(self.when)

    @property
    def camera(self) -> Camera:
        """Camera of the shot, upright frame."""
        return Camera(
            self.x_m,
            self.y_m,
            self.stage_m + self.height_m,
            self.heading_deg,
            self.pitch_deg,
            self.roll_deg,
            _FOCAL_35MM[self.device],
            self.width_px,
            self.height_px,
        )


def shore_place(chainage_m: float, off_m: float, ring: int = 0) -> tuple[float, float, float]:
    """Return the place `off_m` out on the water from a chainage, and the bearing from there back to the shore."""
    line = rings()[ring]
    near = line.at(np.array([chainage_m - 40, chainage_m, chainage_m + 40]) % line.length_m)
    dx, dy = near[2] - near[0]
    length = math.hypot(dx, dy)
    x, y = near[1] + off_m * np.array([-dy, dx]) / length
    return float(x), float(y), math.degrees(math.atan2(dy, -dx)) % 360


def toward(x_m: float, y_m: float, to_x_m: float, to_y_m: float) -> float:
    """Grid bearing from one place to another, degrees."""
    return math.degrees(math.atan2(to_x_m - x_m, to_y_m - y_m)) % 360


def _clock(start: str, number: int, step_s: float) -> datetime:
    return local_time(start) + timedelta(seconds=round(number * step_s))


# chainage, metres out, height, turn from facing the shore squarely, pitch
_MORNING = (
    (150, 130, 62, 35, -17), (620, 150, 55, -20, -16), (940, 120, 48, 25, -17), (1330, 140, 60, 0, -20),
    (1800, 120, 66, -30, -16), (2480, 110, 52, 15, -18), (3050, 130, 70, -25, -17), (3480, 150, 58, 10, -15),
    (3800, 140, 64, 20, -16), (4130, 120, 50, -15, -18), (4480, 130, 58, 30, -17), (4860, 110, 45, -10, -20),
)  # fmt: skip
_AFTERNOON = (
    (9830, 130, 60, 20, -17), (10180, 140, 52, -15, -18), (10700, 150, 68, 10, -16), (11180, 130, 47, -25, -17),
    (11560, 140, 62, 15, -16), (12050, 120, 54, -20, -17), (12480, 110, 60, 20, -18), (13560, 130, 58, 0, -19),
    (14050, 130, 72, 25, -16), (14620, 140, 50, -20, -16), (14960, 150, 64, 15, -15), (15480, 160, 56, -25, -15),
)  # fmt: skip


def _flight(day: str, start: str, first: int, stations: tuple) -> list[Shot]:
    shots = []
    for i, (chainage, off, height, turn, pitch) in enumerate(stations):
        x, y, bearing = shore_place(chainage, off)
        size = {"width_px": 2000, "height_px": 1500} if i in (1, 8) else {}
        roll = ((i * 7) % 5 - 2) * 0.4
        file = f"photos/drone/{day}/TW2_{first + i:04d}.JPG"
        heading = (bearing + turn) % 360
        shots.append(Shot(file, DRONE, _clock(start, i, 55), x, y, height, heading, pitch, roll, **size))
    return shots


def _turn_around() -> list[Shot]:
    """Eight frames at 45 degree steps from one high station over the main basin."""
    start = "2026-03-10 09:32:00"
    return [
        Shot(f"photos/drone/turn/TW2_{201 + i}.JPG", DRONE, _clock(start, i, 9), 60, 150, 112, 45.0 * i, -13)
        for i in range(8)
    ]


def _straight_down() -> list[Shot]:
    start = "2026-03-10 09:45:00"
    x, y, _ = shore_place(10240, 15)
    tx, ty, _ = shore_place(4240, 25)
    places = ((150, 330, 104), (x, y, 84), (tx, ty, 62), (0, DAM_Y_M + 32, 95))
    return [
        Shot(f"photos/drone/down/TW2_{301 + i}.JPG", DRONE, _clock(start, i, 70), px, py, h, 12.0 * i, -90)
        for i, (px, py, h) in enumerate(places)
    ]


def _delta_and_late() -> list[Shot]:
    """Show the delta, and two April frames with the water at its lowest."""
    rest = (
        ("photos/drone/day 1/TW2_0140.JPG", "2026-03-10 09:55:00", 30, 840, 74, 2, -15),
        ("photos/drone/day 1/TW2_0141.JPG", "2026-03-10 09:57:00", -520, 780, 60, 295, -15),
        ("photos/drone/april/TW2_0401.JPG", "2026-04-02 09:20:00", -10, 700, 68, 10, -16),
        ("photos/drone/april/TW2_0402.JPG", "2026-04-02 09:26:00", 60, -1010, 58, 188, -13),
    )
    return [Shot(file, DRONE, local_time(t), x, y, h, b, p) for file, t, x, y, h, b, p in rest]


# The file of a frame of March, and how many metres east and north of it, and turned by how much, April's was taken.
_AGAIN = (
    ("photos/drone/day 1/TW2_0104.JPG", 4.0, -3.0, 2.0),
    ("photos/drone/day 1/TW2_0110.JPG", -6.0, 5.0, -4.0),
    ("photos/drone/day 2/TW2_0128.JPG", 3.0, 6.0, 3.0),
)


def _repeated(earlier: list[Shot]) -> list[Shot]:
    """Repeat three frames five weeks later, with half a metre less water."""
    found = {shot.file: shot for shot in earlier}
    shots = []
    for i, (file, east_m, north_m, turn_deg) in enumerate(_AGAIN):
        shot = found[file]
        shots.append(
            replace(
                shot,
                file=f"photos/drone/april/TW2_{411 + i:04d}.JPG",
                when=_clock("2026-04-14 11:30:00", i, 240),
                x_m=shot.x_m + east_m,
                y_m=shot.y_m + north_m,
                heading_deg=(shot.heading_deg + turn_deg) % 360,
                roll_deg=0.0,
                width_px=1200,
                height_px=900,
            )
        )
    return shots


# chainage, metres out, turn
_BOAT = (
    (380, 70, 10), (1120, 60, -15), (2700, 55, 20), (3620, 80, -10), (3890, 70, 5), (9600, 70, 0),
    (10850, 80, 15), (11420, 60, -20), (15020, 75, 10), (17150, 70, -10),
)  # fmt: skip


def _from_boat() -> list[Shot]:
    shots = []
    for i, (chainage, off, turn) in enumerate(_BOAT):
        x, y, bearing = shore_place(chainage, off)
        file, roll = f"photos/boat/OXM{1204 + 3 * i:05d}.jpg", ((i * 5) % 7 - 3) * 0.5
        when = _clock("2026-03-11 08:50:00", i, 240)
        shots.append(Shot(file, BOAT, when, x, y, EYE_BOAT_M, (bearing + turn) % 360, -1.0, roll))
    x, y, bearing = shore_place(140, 45, ring=1)
    shots.append(Shot("photos/boat/OXM01260.jpg", BOAT, _clock("2026-03-11 09:40:00", 0, 1), x, y, 2.1, bearing, -1.5))
    return shots


def _on_track() -> list[Shot]:
    """Taken from the boat on the first day by devices that wrote no position; the track knows."""
    shots = []
    for i, clock in enumerate(("2026-03-10 08:21:30", "2026-03-10 08:47:30", "2026-03-10 08:58:00")):
        when = local_time(clock)
        x, y = boat_at(when)
        file = f"photos/compact/GV {i + 41:04d}.jpg"
        along = (_to_shore(x, y) + (48, -50, 45)[i]) % 360
        shots.append(Shot(file, COMPACT, when, x, y, EYE_BOAT_M, along, 0.0, traits=frozenset({"track"})))
    when = local_time("2026-03-10 09:37:20")
    x, y = boat_at(when)
    file = "photos/phone/IMG_20260310_093720.jpg"
    return [
        *shots,
        Shot(file, PHONE, when, x, y, EYE_BOAT_M, (_to_shore(x, y) + 45) % 360, -1.0, traits=frozenset({"track"})),
    ]


def _to_shore(x_m: float, y_m: float) -> float:
    points = rings()[0].xy_m
    return toward(x_m, y_m, *points[np.argmin(np.hypot(*(points - (x_m, y_m)).T))])


def rim_place(chainage_m: float, out_m: float) -> tuple[float, float, float, float]:
    """Return a place on the bare rim `out_m` below the full shoreline, the eye's height, the bearing to the water."""
    x, y, bearing = shore_place(chainage_m, out_m)
    return x, y, float(height_at(x, y)[0]) + EYE_BANK_M, (bearing + 180) % 360


# file, local time, chainage, metres out, turn, pitch, portrait, traits, caption
_PHONE = (
    ("photos/shore walk/ramp looking out.jpg", "2026-03-11 10:15:02", 12, 5, -20, -2, False, ("magnetic",),
     "The ramp, with the water 4.7 ft down"),
    ("photos/shore walk/Nº 2 – près de l’île.jpg", "2026-03-11 10:31:40", 3980, 7, 40, -2, True, ("turn6", "magnetic"),
     None),
    ("photos/shore walk/Ufer über der Straße.jpg", "2026-03-11 10:48:12", 4225, 4, 25, -3, True, ("turn8",), None),
    ("photos/shore walk/IMG_20260311_112205.jpg", "2026-03-11 11:22:05", 15400, 2, 60, -2, False, ("turn3",), None),
    ("photos/phone/IMG_20260311_114530.heic", "2026-03-11 11:45:30", 9950, 6, -30, -2, False, ("heic",), None),
    ("photos/phone/IMG_20260311_120101.jpg", "2026-03-11 12:01:01", 10090, 8, 20, -2, False, ("markup",),
     '<script>alert("shore")</script> & #pagebreak() *rock* _ledge_ $x^2$ [bank] \\end{document} "quoted"'),
    ("photos/phone/IMG_20260311_121812.png", "2026-03-11 12:18:12", 10330, 6, -10, -2, False, ("png",), None),
    ("photos/phone/IMG_20260311_130200.jpg", "2026-03-11 13:02:00", 14800, 3, 30, -2, False, ("zero",), None),
    ("photos/phone/IMG_20260311_132640.jpg", "2026-03-11 13:26:40", 17000, 3, -35, -2, False, ("noheading",), None),
    ("photos/phone/IMG_20260311_134417.jpg", "2026-03-11 13:44:17", 300, 7, 15, -2, False, ("wrongplace",), None),
    ("photos/phone/IMG_20260311_140009.jpg", "2026-03-11 14:00:09", 560, 6, 15, -38, False, ("leaveout",), None),
)  # fmt: skip


def _from_bank() -> list[Shot]:
    shots = []
    for file, clock, chainage, out, turn, pitch, portrait, traits, caption in _PHONE:
        when = local_time(clock)
        x, y, eye, bearing = rim_place(chainage, out)
        # A metre of freeboard where the bank itself is under water would be a wading photographer; lift to dry ground.
        height = max(eye - stage_m(when), EYE_BANK_M)
        size = (1200, 1600) if portrait else (800, 600) if "png" in traits else (1600, 1200)
        shots.append(
            Shot(file, PHONE, when, x, y, height, (bearing + turn) % 360, pitch, 0.6, *size, caption, frozenset(traits))
        )
    return shots


def _odd_ones() -> list[Shot]:
    """Show what goes wrong elsewhere: no position off the track, far away, position in XMP alone."""
    x, y, eye, bearing = rim_place(11650, 6)
    lost = local_time("2026-03-12 10:20:00")
    lost_height = max(eye - stage_m(lost), EYE_BANK_M)
    px, py, back = shore_place(16720, 120)
    return [
        Shot("photos/compact/GV 0063.jpg", COMPACT, lost, x, y, lost_height, bearing, -2, traits=frozenset({"lost"})),
        Shot(
            "photos/drone/day 2/TW2_0150.JPG", DRONE, local_time("2026-03-11 16:48:00"), px, py, 57, back - 15, -17,
            traits=frozenset({"xmponly"}), caption="North bank of Pennywort Inlet",
        ),
        Shot(
            "photos/drone/yard/TW2_0009.JPG", DRONE, local_time("2026-03-09 16:10:00"), -1900, 1900, 190, 300, -12,
            width_px=1200, height_px=900, traits=frozenset({"far"}),
        ),
    ]  # fmt: skip


@cache
def shots() -> tuple[Shot, ...]:
    """All photos to render, in file order."""
    flights = [
        *_flight("day 1", "2026-03-10 09:02:00", 101, _MORNING),
        *_flight("day 2", "2026-03-11 16:20:00", 121, _AFTERNOON),
    ]
    everything = [
        *flights,
        *_repeated(flights),
        *_turn_around(),
        *_straight_down(),
        *_delta_and_late(),
        *_from_boat(),
        *_on_track(),
        *_from_bank(),
        *_odd_ones(),
    ]
    return tuple(sorted(everything, key=lambda shot: shot.file))
