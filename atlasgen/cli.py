"""The commands: parse, call the library, print. Results to stdout, progress and messages to stderr."""

from __future__ import annotations

import atexit
import gc
import sys
from pathlib import Path

import click

from atlasgen import __version__
from atlasgen.cli_bundle import bundle
from atlasgen.cli_compare import compare
from atlasgen.cli_edition import keys, sign, verify
from atlasgen.cli_parts import QUIET, STRICT, SURVEY, WORKERS, progress_lines, told
from atlasgen.cli_pocket import pocket

_OBJECTS_BETWEEN_COLLECTIONS = 200_000


@click.group(
    help=(
        "Turn the folder of a lake survey into a photo book (PDF) and an offline photo atlas (HTML).\n\n"
        "\b\nExample:\n"
        "  atlasgen new my_lake                     make a survey folder to fill in\n"
        "  atlasgen check my_lake                   see what is usable and what is not\n"
        "  atlasgen build my_lake --out my_atlas    publish the edition\n\n"
        "An atlas is not for navigation."
    ),
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
)
@click.version_option(__version__, prog_name="atlasgen")
def main() -> None:
    """Hold the commands together."""
    # What a build makes lives until its end: looking through it for cycles, and once more at exit, is a tenth of a
    # rebuild's time.
    gc.set_threshold(_OBJECTS_BETWEEN_COLLECTIONS)
    atexit.register(gc.freeze)


@main.command(epilog="Example: atlasgen new my_lake")
@click.argument("folder", type=click.Path(path_type=Path))
@told
def new(folder: Path) -> None:
    """Make a survey folder with a commented survey.toml to fill in."""
    from atlasgen.write.starter import write_starter

    for line in write_starter(folder):
        click.echo(line)


@main.command(epilog="Example: atlasgen check my_lake")
@SURVEY
@STRICT
@WORKERS
@QUIET
@told
def check(survey: Path, strict: bool, workers: int, quiet: bool) -> None:
    """Read everything, write nothing: say what is usable, what is not, and what to do."""
    from atlasgen.pipeline import check as run
    from atlasgen.report import check_report

    with progress_lines(quiet) as progress:
        atlas = run(survey, workers=workers, progress=progress)
    click.echo(check_report(atlas))
    if strict and atlas.problems:
        sys.exit(1)


@main.command(epilog="Example: atlasgen build my_lake --out my_atlas")
@SURVEY
@click.option(
    "--out", required=True, type=click.Path(path_type=Path), help="Folder of the edition, outside the survey."
)
@click.option(
    "--stage",
    type=click.FloatRange(-200, 50),
    metavar="METRES",
    help="Tell depths for this level: 0 at full, -1.4 drawn down by 1.4 m. What lies higher is drawn as dry.",
)
@click.option("--anew", is_flag=True, help="Use nothing of the last build; the result is the same.")
@STRICT
@WORKERS
@QUIET
@told
def build(survey: Path, out: Path, stage: float | None, anew: bool, strict: bool, workers: int, quiet: bool) -> None:
    """Build the edition: the offline atlas, the book, the audit and the tables.

    It is made beside OUT and takes its place when it is whole; until then an earlier edition stays as it was. What has
    not changed since the last build is not made again, and if nothing has, nothing is written.
    """
    from atlasgen.publishing import publish

    with progress_lines(quiet) as progress:
        report = publish(survey, out, strict=strict, stage_m=stage, workers=workers, anew=anew, progress=progress)
    click.echo(report)


@main.command(epilog="Example: atlasgen audit my_lake --csv reaches.csv")
@SURVEY
@click.option("--csv", "csv_path", type=click.Path(dir_okay=False, path_type=Path), help="Also write every reach here.")
@WORKERS
@QUIET
@told
def audit(survey: Path, csv_path: Path | None, workers: int, quiet: bool) -> None:
    """Say how well each stretch of shore is photographed, and where the gaps are."""
    from atlasgen.pipeline import check as run
    from atlasgen.report import audit_report
    from atlasgen.write.tables import write_reaches_csv

    with progress_lines(quiet) as progress:
        atlas = run(survey, workers=workers, progress=progress)
    click.echo(audit_report(atlas))
    if csv_path:
        write_reaches_csv(atlas, csv_path)
        click.echo(f"Every reach: {csv_path}")


@main.command(epilog="Example: atlasgen plan my_lake --out next_field_day")
@SURVEY
@click.option("--out", required=True, type=click.Path(path_type=Path), help="Folder for the plan, outside the survey.")
@WORKERS
@QUIET
@told
def plan(survey: Path, out: Path, workers: int, quiet: bool) -> None:
    """Plan the next field day: camera stations that close the gaps, in runs that fit a battery.

    A plan is a proposal, not a flight clearance: local rules, your licence and the day decide.
    """
    from atlasgen.planning import plan as run
    from atlasgen.report import plan_report

    with progress_lines(quiet) as progress:
        made = run(survey, out, workers=workers, progress=progress)
    click.echo(plan_report(made, out))


for command in (verify, sign, keys, bundle, pocket, compare):
    main.add_command(command)
