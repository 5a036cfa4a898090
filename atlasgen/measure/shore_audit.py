"""The audit of a placed survey: the state of each metre, its reaches, totals, and the stretches without a photo."""

from __future__ import annotations

from collections.abc import Sequence

from shapely import MultiPolygon

from atlasgen.measure.shore_states import (
    photo_columns,
    reason_of_pieces,
    shore_states,
    sightings,
    state_stretches,
)
from atlasgen.measure.shore_totals import reach_summaries, state_totals
from atlasgen.model import AuditRules, Placed, ShoreAudit
from atlasgen.place.sight import Sight


def audit_shore(
    placed: Placed, sight: Sight, rules: AuditRules, no_photo: Sequence[tuple[str, MultiPolygon]]
) -> ShoreAudit:
    """Put every metre of shore into its state; `no_photo` are (reason, metric polygon) that cannot be photographed."""
    photos, seen = photo_columns(placed.photos, placed.reaches), sightings(sight.seen)
    reason, reasons = reason_of_pieces(sight.shore.xy_m, no_photo)
    pieces = shore_states(sight.shore, photos, seen, rules, reason, reasons)
    summaries = reach_summaries(placed.reaches, sight.shore, pieces, seen)
    return ShoreAudit(
        shore=sight.shore,
        pieces=pieces,
        reaches={summary.reach: summary for summary in summaries},
        stretches=state_stretches(sight.shore, pieces, seen),
        totals=state_totals(placed.reaches, {summary.reach: summary.lengths_m for summary in summaries}),
    )
