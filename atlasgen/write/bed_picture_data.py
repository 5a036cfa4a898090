"""What atlas.json and the offline atlas's map are told of the pictures of the bed: tiles, where they lie, words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from atlasgen.compose.history_words import metres_words
from atlasgen.compose.compass import compass_words
from atlasgen.model import Atlas
from atlasgen.model.layer_tiles import LayerTiles, PictureKind
from atlasgen.units import date_words, level_words, set_words
from atlasgen.write.packing import pack_areas
from atlasgen.write.tile_scheme import TILE_PX
from atlasgen.write.webgrid import packed_runs
