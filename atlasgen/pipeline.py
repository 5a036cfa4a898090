"""The whole story: read, place, measure, compose, write."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from atlasgen.config import read_settings
from atlasgen.errors import AtlasgenError, StrictFailure
from atlasgen.model import Atlas, Progress
from atlasgen.model.memory import ANEW, Memory
from atlasgen.model.wording import DEFAULT, language, speaking
from atlasgen.workers import aside, pool


def silent(step: str, done: int, total: int) -> None:
    """Show nothing."""


def build(
    survey_dir: Path,
    out: Path,
    *,
    strict: bool = False,
    stage_m: float | None = None,
    workers: int = 2,
    progress: Progress = silent,
    memory: Memory = ANEW,
) -> Atlas:
    """Build the edition of a survey folder into `out`; the previous edition stays until the new one is whole.

    `stage_m`: the level that depths are told from, against the datum; None leaves it to survey.toml. `memory` spares
    what the last build has done; the bytes are the same with and without it.

    Raises
    ------
    AtlasgenError
        Settings or shoreline cannot be used, `out` is not ours to replace, or `strict` and any problem was met.
    """
    settings, former = read_settings(survey_dir).shown_at(stage_m), memory.former(out)
    with speaking(settings.units.language), pool(workers) as executor:
        # After the pool: the workers start while heavy libraries are imported here.
        from atlasgen.write.edition import keep_unchanged, staged, write_edition

        with staged(out, survey_dir) as folder:
            atlas, inputs = compute(survey_dir, settings, folder, executor, progress, memory, former)
            if strict and atlas.problems:
                raise StrictFailure(len(atlas.problems))
            write_edition(atlas, inputs, folder, executor, progress, memory)
            executor.shutdown(wait=False)  # its processes end while files and folders change places
            keep_unchanged(folder, former)
    return atlas


def compute(survey_dir, settings, folder, executor, progress, memory=ANEW, former=None):
    """Work everything out; only the photo derivatives are written, to `folder` (None: none are, they are only decoded).

    `former` is the edition before, whose pictures serve where `memory` knows them.
    Returns the atlas and the inputs' SHA-256 by name.
    """
    from atlasgen.compose.survey import compose_atlas
    from atlasgen.measure.survey import level_lookup, measure_survey
    from atlasgen.place.sight import see_survey
    from atlasgen.place.survey import place_survey, without_photos
    from atlasgen.write.bed_pictures import BedSources, cut_layers
    from atlasgen.write.pictures import write_pictures
    from atlasgen.write.since import with_changes
    from atlasgen.write.tables import load_geopackage_library

    survey = _read(survey_dir, settings, executor, progress, memory)
    placed = place_survey(survey, settings.place_rules(), level_lookup(survey.stage), progress)
    blur = {file: correction.blur for file, correction in survey.corrections.items()}
    pictures, damaged = write_pictures(
        placed.photos, survey_dir, folder, settings.write_rules(), executor, progress, blur, memory, former
    )
    if folder:
        aside(executor, load_geopackage_library)
    placed = without_photos(placed, damaged)
    sight = see_survey(
        placed,
        settings.view_rules(),
        level_lookup(survey.stage),
        progress,
        survey.elevation,
        settings.elevation_rules(),
        memory,
    )
    known = measure_survey(survey, placed, sight, settings.measure_rules(), settings.audit_rules(), progress, memory)
    bed = BedSources(survey_dir, survey.layers, survey.inputs, settings.relief.rules())
    bed_pictures, said = cut_layers(bed, placed, known, folder, executor, progress, memory, former)
    known = replace(known, problems=(*known.problems, *said))
    atlas = compose_atlas(survey, placed, known, pictures, settings.compose_rules(), progress, memory, bed_pictures)
    return with_changes(atlas, survey.previous), survey.inputs


def _read(survey_dir, settings, executor, progress, memory):
    """Read the survey. What stops the job is told to the crew alone: it is met again, in English."""
    from atlasgen.read.survey import read_survey

    try:
        return read_survey(survey_dir, settings.read_rules(), executor, progress, memory)
    except AtlasgenError:
        if language() == DEFAULT:
            raise
        with speaking(DEFAULT):
            return read_survey(survey_dir, settings.read_rules(), executor, progress, memory)


def check(survey_dir: Path, *, workers: int = 2, progress: Progress = silent) -> Atlas:
    """Work everything out and write nothing; raises as `build` does. What it says is for the crew: in English."""
    settings = read_settings(survey_dir)
    with pool(workers) as executor:
        atlas, _ = compute(survey_dir, settings, None, executor, progress)
    return atlas
