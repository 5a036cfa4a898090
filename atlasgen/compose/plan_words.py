"""What a field plan says in words: cautions on everything a person reads, stations, runs, and what is left."""

from __future__ import annotations

from atlasgen.model.fieldplan import FieldPlan, PlanRules, Run, Station
from atlasgen.units import DistanceUnit, compass_words, distance_words, height_words

PROPOSAL = "The plan is a proposal, not a flight clearance."
# 120 m above the ground: Commission Implementing Regulation (EU) 2019/947, UAS.OPEN.010. 400 ft: 14 CFR 107.51(b).
PUBLISHED_LIMIT = "120 m or 400 ft above ground"


def plan_cautions(plan: FieldPlan, unit: DistanceUnit = "metric") -> tuple[str, ...]:
    """Return the cautions of a plan, the first being the one that every page repeats."""
    return (
        f"{PROPOSAL} The crew’s licence and the local law decide what may be flown, where and when.",
        _height_caution(plan, unit),
        "Keep away from people, boats, birds and private homes. If any are near a station, leave it out.",
        "Legs are straight lines. The plan knows no trees, wires, masts or hills and no wind: look along each leg "
        "before you fly it, and keep the drone in sight as the local rule asks.",
        "Turn back when the battery nears its reserve, whatever the plan says. On the water wear a life jacket.",
    )


def check_height(rules: PlanRules, unit: DistanceUnit) -> str:
    """Say which height has to be checked against the local rule, and why."""
    limit = height_words(rules.max_height_m, unit)
    return f"above {limit} (the commonly published limit is {PUBLISHED_LIMIT}): check the local rule"


def _height_caution(plan: FieldPlan, unit: DistanceUnit) -> str:
    high = [s.name for s in (*plan.stations, *plan.beyond) if is_high(s, plan.rules)]
    if high:
        verb = "is" if len(high) == 1 else "are"
        return f"{_listed(high)} {verb} {check_height(plan.rules, unit)} before you fly there."
    return (
        f"Heights count from the water of the day. No station is above {height_words(plan.rules.max_height_m, unit)} "
        f"(the commonly published limit is {PUBLISHED_LIMIT}), but the local rule may be lower: check it."
    )


def _listed(names: list[str]) -> str:
    shown = ", ".join(names[:6])
    return (
        f"Stations {shown} and {len(names) - 6} more" if len(names) > 6 else f"Station{'s' * (len(names) > 1)} {shown}"
    )


def is_high(station: Station, rules: PlanRules) -> bool:
    """Tell whether a station is above the height from which the local rule must be checked."""
    return station.height_m > rules.max_height_m


def station_words(station: Station, rules: PlanRules, unit: DistanceUnit) -> str:
    """Say how to take the photograph: `40 m up, heading 068° true (east-north-east), camera 20° below level`."""
    down = -station.pitch_deg
    held = "level" if down == 0 else f"{abs(down):g}° {'below' if down > 0 else 'above'} level"
    words = (
        f"{height_words(station.height_m, unit)} above the water, heading {station.heading_deg_true:03.0f}° true "
        f"({compass_words(station.heading_deg_true)}), camera {held}; shows "
        f"{distance_words(station.shows_m, unit)} of missing shore from {distance_words(station.distance_m, unit)}"
    )
    return f"{words}. Its height is {check_height(rules, unit)}." if is_high(station, rules) else f"{words}."


def run_words(run: Run, plan: FieldPlan, unit: DistanceUnit) -> str:
    """Say what a run is: stations, way, time and share of the battery, and what of it lies over land."""
    share = run.time_s / plan.rules.battery_s
    land = f", {distance_words(run.over_land_m, unit)} of it over land" if run.over_land_m >= 5 else ""
    stations = f"{len(run.stations)} station{'s' * (len(run.stations) != 1)}"
    return (
        f"{stations}, {distance_words(run.length_m, unit)} of straight legs{land}, about {minutes_words(run.time_s)}, "
        f"{share:.0%} of a battery; farthest from {plan.rules.launch_name} {distance_words(run.farthest_m, unit)}."
    )


def minutes_words(seconds: float) -> str:
    """Time of a flight in whole minutes, rounded up."""
    return f"{int(-(-seconds // 60))} min"


def reckoning_words(rules: PlanRules, unit: DistanceUnit) -> tuple[str, ...]:
    """Say what the plan reckons with, so that a crew can tell whether it fits their craft."""
    lens = f"{rules.hfov_deg:g}° by {rules.vfov_deg:g}°, {rules.width_px} by {rules.height_px} pixels"
    return (
        f"Time: {rules.speed_mps:g} m/s along the legs, {rules.seconds_per_station:g} s at each station, "
        f"{rules.climb_s:g} s for take-off, climb, descent and landing. A battery is taken to last "
        f"{minutes_words(rules.battery_s)}, of which {rules.reserve_share:.0%} stay in reserve.",
        f"Camera: {lens}. A metre of shore counts as shown when a pixel spans at most {rules.gsd_limit_cm:g} cm there "
        f"and the line of sight meets the bank at {rules.angle_limit_deg:g}° or more.",
        "Room for error: a station is credited only with what it still shows when it is "
        f"{distance_words(rules.margin_sigmas * rules.position_sigma_m, unit)} out of place, its heading "
        f"{rules.margin_sigmas * rules.heading_sigma_deg:g}° and its pitch "
        f"{rules.margin_sigmas * rules.pitch_sigma_deg:g}° off.",
    )


def left_words(plan: FieldPlan, unit: DistanceUnit) -> tuple[tuple[str, str, str], ...]:
    """Return what is left, by reason: the reason, its length, and how many stretches."""
    lengths_m: dict[str, list[float]] = {}
    for left in plan.left:
        lengths_m.setdefault(left.why, []).append(left.span.length_m)
    longest_first = sorted(lengths_m.items(), key=lambda item: -sum(item[1]))
    return tuple((why, distance_words(sum(each), unit), str(len(each))) for why, each in longest_first)
