"""The command that makes one file of an edition, for phones."""

from __future__ import annotations

import math
from pathlib import Path

import click

from atlasgen.cli_parts import QUIET, WORKERS, progress_lines, told


@click.command(epilog="Example: atlasgen pocket my_atlas --to my_lake.html --megabytes 10")
@click.argument("atlas", type=click.Path(path_type=Path))
@click.option("--to", "target", required=True, type=click.Path(path_type=Path), help="The HTML file to write.")
@click.option(
    "--megabytes", type=click.FloatRange(0.1, 2000), default=25, show_default=True,
    help="The most that the file may weigh; a megabyte is 1,000,000 bytes.",
)  # fmt: skip
@WORKERS
@QUIET
@told
def pocket(atlas: Path, target: Path, megabytes: float, workers: int, quiet: bool) -> None:
    """Make one HTML file of an edition, for phones and wherever a folder cannot be opened.

    ATLAS is the folder or the zip of an edition. Photos are made as large as the size allows; if they do not all fit
    at their smallest, those that stand later on their page are left out, and the page says so.
    """
    if not math.isfinite(megabytes):
        raise click.BadParameter("is no number", param_hint="--megabytes")
    from atlasgen.ship.pocket import MEGABYTE, write_pocket

    with progress_lines(quiet) as progress:
        made = write_pocket(atlas, target, int(megabytes * MEGABYTE), progress, workers)
    left_out = f", {made.photos_left_out} left out" if made.photos_left_out else ""
    click.echo(
        f"{target}: {made.size_bytes / MEGABYTE:.1f} MB, {made.photos_shown} photos{left_out}, "
        f"at most {made.long_edge_px:,} px long at quality {made.quality}."
    )
