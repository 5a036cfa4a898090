"""The values that pass between the rooms: frozen, plain, with the unit in each name.

Angles are degrees clockwise from true north, depths metres below the chart datum (positive down), stages metres
above the datum (negative when drawn down), times aware UTC, areas square metres. Unknown is None, never 0.
Nothing here computes; shapely and numpy are named for type checkers only, so that a worker stays light.
"""

from atlasgen.model.atlas import (
    Atlas,
    Compass,
    Drawing,
    Figure,
    Layers,
    Note,
    Page,
    Picture,
    Sentence,
    Shape,
    SurveyFacts,
    Thumbnail,
)
from atlasgen.model.chart import ChartEdition
from atlasgen.model.common import PROBLEM_CODES, Level, LonLat, Measured, PointM, Problem, Progress
from atlasgen.model.known import DepthBand, DepthGrid, Isobath, Known, ReachCoverage, ReachDepth
from atlasgen.model.placed import Photo, Placed, Reach, Ring, Tile
from atlasgen.model.rules import CameraRule, ComposeRules, MeasureRules, PlaceRules, ReadRules, WriteRules, Zone
from atlasgen.model.states import (
    AuditRules,
    Gap,
    PieceStates,
    ReachStates,
    ShoreAudit,
    ShoreState,
    ShoreStates,
    StateStretch,
    StateTotal,
    StateTotals,
)
from atlasgen.model.survey import (
    Correction,
    NamedArea,
    Outage,
    PhotoFile,
    SonarPass,
    Soundings,
    StageRecord,
    Survey,
    Track,
)
from atlasgen.model.turnarounds import TurnAround
from atlasgen.model.views import ReachSeen, SeenMetres, Stretch, View, ViewRules, Views

__all__ = [
    "PROBLEM_CODES",
    "Atlas",
    "AuditRules",
    "CameraRule",
    "ChartEdition",
    "Compass",
    "ComposeRules",
    "Correction",
    "DepthBand",
    "DepthGrid",
    "Drawing",
    "Figure",
    "Gap",
    "Isobath",
    "Known",
    "Layers",
    "Level",
    "LonLat",
    "MeasureRules",
    "Measured",
    "NamedArea",
    "Note",
    "Outage",
    "Page",
    "Photo",
    "PhotoFile",
    "Picture",
    "PieceStates",
    "PlaceRules",
    "Placed",
    "PointM",
    "Problem",
    "Progress",
    "Reach",
    "ReachCoverage",
    "ReachDepth",
    "ReachSeen",
    "ReachStates",
    "ReadRules",
    "Ring",
    "SeenMetres",
    "Sentence",
    "Shape",
    "ShoreAudit",
    "ShoreState",
    "ShoreStates",
    "SonarPass",
    "Soundings",
    "StageRecord",
    "StateStretch",
    "StateTotal",
    "StateTotals",
    "Stretch",
    "Survey",
    "SurveyFacts",
    "Thumbnail",
    "Tile",
    "Track",
    "TurnAround",
    "View",
    "ViewRules",
    "Views",
    "WriteRules",
    "Zone",
]
