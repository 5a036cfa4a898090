"""What a field plan says in words: cautions on everything a person reads, stations, runs, and what is left."""

from __future__ import annotations

from atlasgen.model.fieldplan import FieldPlan, PlanRules, Run, Station
from atlasgen.model.wording import say
from atlasgen.units import DistanceUnit, compass_words, distance_words, height_words

# 120 m above the ground: Commission Implementing Regulation (EU) 2019/947, UAS.OPEN.010. 400 ft: 14 CFR 107.51(b). The
# words files name both.
_NAMED = 6


def proposal() -> str:
    """Return the caution that every page repeats."""
    return say("plan-proposal")


def plan_cautions(plan: FieldPlan, unit: DistanceUnit = "metric") -> tuple[str, ...]:
    """Return the cautions of a plan, the first being the one that every page repeats."""
    return (
        f"{proposal()} {say('plan-licence')}",
        _height_caution(plan, unit),
        say("plan-keep-away"),
        say("plan-legs"),
        say("plan-turn-back"),
    )


def check_height(rules: PlanRules, unit: DistanceUnit) -> str:
    """Say which height has to be checked against the local rule, and why."""
    return say("plan-check", limit=height_words(rules.max_height_m, unit))


def _height_caution(plan: FieldPlan, unit: DistanceUnit) -> str:
    high = [s.name for s in (*plan.stations, *plan.beyond) if is_high(s, plan.rules)]
    if not high:
        return say("plan-not-high", limit=height_words(plan.rules.max_height_m, unit))
    facts = {"stations": ", ".join(high[:_NAMED]), "check": check_height(plan.rules, unit)}
    if len(high) > _NAMED:
        return say("plan-high-more", more=len(high) - _NAMED, **facts)
    return say("plan-high", count=len(high), **facts)


def is_high(station: Station, rules: PlanRules) -> bool:
    """Tell whether a station is above the height from which the local rule must be checked."""
    return station.height_m > rules.max_height_m


def station_words(station: Station, rules: PlanRules, unit: DistanceUnit) -> str:
    """Say how to take the photograph: `40 m up, heading 068° true (east-north-east), camera 20° below level`."""
    down = -station.pitch_deg
    words = say(
        "plan-station",
        height=height_words(station.height_m, unit),
        heading=f"{station.heading_deg_true:03.0f}",
        way=compass_words(station.heading_deg_true),
        held="level" if down == 0 else "below" if down > 0 else "above",
        angle=abs(down),
        shows=distance_words(station.shows_m, unit),
        distance=distance_words(station.distance_m, unit),
    )
    return (
        say("plan-station-high", station=words, check=check_height(rules, unit)) if is_high(station, rules) else words
    )


def run_words(run: Run, plan: FieldPlan, unit: DistanceUnit) -> str:
    """Say what a run is: stations, way, time and share of the battery, and what of it lies over land."""
    return say(
        "plan-run-over-land" if run.over_land_m >= 5 else "plan-run",
        stations=say("plan-stations", count=len(run.stations)),
        length=distance_words(run.length_m, unit),
        land=distance_words(run.over_land_m, unit),
        time=minutes_words(run.time_s),
        share=_percent(run.time_s / plan.rules.battery_s),
        launch=plan.rules.launch_name,
        farthest=distance_words(run.farthest_m, unit),
    )


def _percent(share: float) -> str:
    return f"{100 * share:.0f}"


def minutes_words(seconds: float) -> str:
    """Time of a flight in whole minutes, rounded up."""
    return f"{int(-(-seconds // 60))} min"


def reckoning_words(rules: PlanRules, unit: DistanceUnit) -> tuple[str, ...]:
    """Say what the plan reckons with, so that a crew can tell whether it fits their craft."""
    return (
        say(
            "plan-reckoning-time",
            speed=rules.speed_mps,
            station=rules.seconds_per_station,
            climb=rules.climb_s,
            battery=minutes_words(rules.battery_s),
            reserve=_percent(rules.reserve_share),
        ),
        say(
            "plan-reckoning-camera",
            across=rules.hfov_deg,
            up=rules.vfov_deg,
            width=rules.width_px,
            height=rules.height_px,
            gsd=rules.gsd_limit_cm,
            angle=rules.angle_limit_deg,
        ),
        say(
            "plan-reckoning-error",
            distance=distance_words(rules.margin_sigmas * rules.position_sigma_m, unit),
            heading=rules.margin_sigmas * rules.heading_sigma_deg,
            pitch=rules.margin_sigmas * rules.pitch_sigma_deg,
        ),
    )


def left_words(plan: FieldPlan, unit: DistanceUnit) -> tuple[tuple[str, str, str], ...]:
    """Return what is left, by reason: the reason, its length, and how many stretches."""
    lengths_m: dict[str, list[float]] = {}
    for left in plan.left:
        lengths_m.setdefault(left.why, []).append(left.span.length_m)
    longest_first = sorted(lengths_m.items(), key=lambda item: -sum(item[1]))
    return tuple((why, distance_words(sum(each), unit), str(len(each))) for why, each in longest_first)
