"""The command that says what changed between two editions."""

from __future__ import annotations

from pathlib import Path

import click

from atlasgen.cli_parts import told


@click.command(epilog="Example: atlasgen compare atlas_2026 atlas_2027 --html changes.html")
@click.argument("old", type=click.Path(path_type=Path))
@click.argument("new", type=click.Path(path_type=Path))
@click.option(
    "--html", "html_path", type=click.Path(dir_okay=False, path_type=Path), help="Write every change to one page here."
)
@click.option(
    "--json",
    "json_path",
    type=click.Path(dir_okay=False, path_type=Path, allow_dash=True),
    help="Write every change for machines here; - prints it instead of the text.",
)
@told
def compare(old: Path, new: Path, html_path: Path | None, json_path: Path | None) -> None:
    """Say what changed between two editions of one lake, each a folder, a card or a zip, which is not unpacked.

    Reaches are compared bank by bank, whatever their ids; a depth has changed only if it differs by more than the
    bounds of both editions leave open. The exit code is 0 whether or not anything changed.
    """
    from atlasgen.model.wording import speaking
    from atlasgen.ship.compare import compare_editions, language_of
    from atlasgen.write.changes_report import changes_html, changes_json, changes_text

    changes, to_stdout = compare_editions(old, new), str(json_path) == "-"
    if html_path:
        # The page is for readers of the new edition; what is printed here is for the crew.
        with speaking(language_of(new)):
            _write(html_path, changes_html(compare_editions(old, new)))
    if json_path and not to_stdout:
        _write(json_path, changes_json(changes))
    click.echo(changes_json(changes).rstrip() if to_stdout else changes_text(changes))


def _write(path: Path, text: str) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8", newline="\n")
