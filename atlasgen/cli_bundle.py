"""The command that lays an edition beside its chart, on a card, in a folder or in a zip."""

from __future__ import annotations

from pathlib import Path

import click

from atlasgen.cli_parts import QUIET, progress_lines, told
from atlasgen.units import MEGABYTE


@click.command(epilog="Example: atlasgen bundle my_atlas --chart chart_2026 --to /media/card --pocket")
@click.argument("atlas", type=click.Path(file_okay=False, path_type=Path))
@click.option(
    "--chart", required=True, type=click.Path(path_type=Path), help="Folder of the chart edition's own files."
)
@click.option("--to", "target", required=True, type=click.Path(path_type=Path), help="Card, folder, or a zip's place.")
@click.option("--zip", "as_zip", is_flag=True, help="Pack everything into one zip.")
@click.option("--pocket", is_flag=True, help="Add the pocket edition, one small HTML file.")
@click.option(
    "--pocket-mb", type=click.FloatRange(1, 4000), default=25, show_default=True, help="What it may weigh, in MB."
)
@QUIET
@told
def bundle(atlas: Path, chart: Path, target: Path, as_zip: bool, pocket: bool, pocket_mb: float, quiet: bool) -> None:
    """Lay a finished atlas beside the chart edition it ships with.

    The chart's files are copied byte for byte, never opened or renamed; survey.toml says under [chart] which edition
    they are. The card is tested first, every file is read back, and files there that are not ours are never touched.
    Bundle the next edition onto the same card and only what changed is written.
    """
    from atlasgen.ship.bundle import bundle as run

    pocket_bytes = round(pocket_mb * MEGABYTE) if pocket else None
    with progress_lines(quiet) as progress:
        done = run(atlas, chart, target, as_zip=as_zip, pocket_bytes=pocket_bytes, progress=progress)
    for warning in done.warnings:
        click.echo(f"would not fit every card: {warning}", err=True)
    click.echo(f"{done.target}: {done.files} files, {done.bytes / MEGABYTE:,.1f} MB, read back and whole.")
    if not as_zip:
        click.echo(f"Written: {done.written}; as they were: {done.files - done.written}; taken away: {done.removed}.")
