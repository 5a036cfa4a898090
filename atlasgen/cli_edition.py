"""The commands for a finished edition: verify it, sign it, make the keys for that."""

from __future__ import annotations

import json
import sys
from dataclasses import asdict
from pathlib import Path

import click

from atlasgen.cli_parts import told
from atlasgen.model.text import visible


@click.command(epilog="Example: atlasgen verify my_atlas --public crew.pub")
@click.argument("atlas", type=click.Path(path_type=Path))
@click.option(
    "--public", type=click.Path(dir_okay=False, path_type=Path), help="The crew's public key; it must have signed."
)
@click.option("--json", "as_json", is_flag=True, help="Print the result for machines.")
@told
def verify(atlas: Path, public: Path | None, as_json: bool) -> None:
    """Say whether an edition is whole: a folder, a card or a zip, which is not unpacked.

    Every file is compared with the manifest, every link and page reference is followed, and the signature is tested.
    The exit code is 1 if anything is wrong.
    """
    from atlasgen.ship.verify import verify_edition

    verdict = verify_edition(atlas, public)
    if as_json:
        click.echo(json.dumps({"whole": verdict.whole, **asdict(verdict)}, ensure_ascii=False, indent=1))
        sys.exit(0 if verdict.whole else 1)
    for finding in verdict.findings:
        click.echo(visible(f"{finding.state}: {finding.file}: {finding.words}"))
    if verdict.findings:
        count = len(verdict.findings)
        click.echo(
            f"{atlas}: not whole, {count} finding{'s' if count != 1 else ''}. Copy the edition again, then verify."
        )
    else:
        click.echo(
            f"{atlas}: whole, {verdict.files} files as the manifest lists them; every reference leads somewhere."
        )
    click.echo(visible(verdict.signed.words))
    sys.exit(0 if verdict.whole else 1)


@click.command(epilog='Example: atlasgen sign my_atlas --key crew.key --name "The lake crew"')
@click.argument("atlas", type=click.Path(file_okay=False, path_type=Path))
@click.option(
    "--key", required=True, type=click.Path(dir_okay=False, path_type=Path), help="The crew's private key (PEM)."
)
@click.option("--name", "signer", required=True, help="Who signs, as customers are to read it.")
@told
def sign(atlas: Path, key: Path, signer: str) -> None:
    """Sign the manifest of an edition, so that customers can tell it is yours and unchanged.

    The signature goes into manifest.sig; a key with a password takes it from ATLASGEN_KEY_PASSWORD.
    """
    from atlasgen.ship.signing import sign_edition

    mark = sign_edition(atlas, key, signer)
    click.echo(f"{atlas}: signed as {signer!r}. Give customers this fingerprint, or the public key: {mark}")


@click.command(epilog="Example: atlasgen keys crew")
@click.argument("name", type=click.Path(path_type=Path))
@told
def keys(name: Path) -> None:
    """Make a pair of keys: NAME.key to sign with, which stays with you, and NAME.pub for customers."""
    from atlasgen.ship.signing import make_keys

    secret, public = make_keys(name)
    click.echo(f"{secret}: keep it secret and keep a copy; who has it can sign as you.")
    click.echo(f"{public}: give it to customers, by another way than the card.")
