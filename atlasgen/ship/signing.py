"""The crew's signature under a manifest: Ed25519 (RFC 8032), by a key of theirs, in a file beside it."""

from __future__ import annotations

import base64
import hashlib
import json
import os
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from atlasgen.errors import InputFault, MissingInput, OutputRefused
from atlasgen.ship.holders import Holder, opened
from atlasgen.write.edition import MANIFEST

SIGNATURE = "manifest.sig"
_FORMAT = "atlasgen signature 1"


@dataclass(frozen=True, slots=True)
class Signed:
    """What is known of who signed: the words for people, and whether the signature is wrong."""

    words: str
    bad: bool = False
    signer: str | None = None
    fingerprint: str | None = None


def make_keys(name: Path) -> tuple[Path, Path]:
    """Write a new pair: NAME.key, which is the crew's secret and only theirs to read, and NAME.pub for customers.

    Raises
    ------
    OutputRefused
        One of the two is there already; a key is never overwritten.
    """
    from cryptography.hazmat.primitives import serialization as form
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

    secret, public = name.with_name(f"{name.name}.key"), name.with_name(f"{name.name}.pub")
    for path in (secret, public):
        if path.exists():
            raise OutputRefused(str(path), "is there already", "Choose another name, or move it away yourself.")
    key = Ed25519PrivateKey.generate()
    plain = form.NoEncryption()
    with os.fdopen(os.open(secret, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as file:
        file.write(key.private_bytes(form.Encoding.PEM, form.PrivateFormat.PKCS8, plain))
    public.write_bytes(key.public_key().public_bytes(form.Encoding.PEM, form.PublicFormat.SubjectPublicKeyInfo))
    return secret, public


def sign_edition(folder: Path, key: Path, signer: str) -> str:
    """Sign the manifest of an edition in a folder; return the fingerprint of the key. The manifest stays as it is.

    Raises
    ------
    MissingInput, InputFault
        There is no edition, or the key cannot be used.
    """
    secret = _private(key)
    with opened(folder, MANIFEST) as holder, holder.open(MANIFEST) as file:
        text = file.read()
    public = secret.public_key().public_bytes_raw()
    content = {
        "format": _FORMAT,
        "algorithm": "Ed25519",
        "signer": signer,
        "public_key": base64.b64encode(public).decode(),
        "signature": base64.b64encode(secret.sign(_message(signer, text))).decode(),
    }
    top = folder if (folder / MANIFEST).is_file() else next(folder.glob(f"*/{MANIFEST}")).parent
    (top / SIGNATURE).write_text(json.dumps(content, indent=1, ensure_ascii=False) + "\n", encoding="utf-8")
    return fingerprint(public)


def read_signature(holder: Holder, manifest: bytes, public_key: Path | None) -> Signed:
    """Say who signed a manifest, or that nobody did; bad if it does not fit, or is not of the key given."""
    known = _public_bytes(public_key) if public_key else None
    try:
        with holder.open(SIGNATURE) as file:
            content = json.loads(file.read(64 * 1024))
        signer, public = str(content["signer"]), base64.b64decode(content["public_key"], validate=True)
        signature = base64.b64decode(content["signature"], validate=True)
    except FileNotFoundError:
        return Signed("Nobody signed it.", bad=known is not None)
    except (OSError, ValueError, KeyError, TypeError) as error:
        return Signed(f"{SIGNATURE} cannot be read ({type(error).__name__}).", bad=True)
    if not is_sound(public, signature, _message(signer, manifest)):
        return Signed(f"The signature of {signer!r} does not fit this edition.", True, signer)
    mark = fingerprint(public)
    if known is None:
        words = (
            f"Signed by a key that calls itself {signer!r}. Whose it is, only its fingerprint tells: {mark}. "
            "Compare it with the one the crew gave you, or verify with --public."
        )
        return Signed(words, False, signer, mark)
    if public != known:
        return Signed(f"Signed by another key than yours, {mark}, which calls itself {signer!r}.", True, signer, mark)
    return Signed(f"Signed by {signer!r} with the key you gave.", False, signer, mark)


def fingerprint(public: bytes) -> str:
    """Return a key's fingerprint to read aloud: the first 16 bytes of its SHA-256, in fours."""
    digits = hashlib.sha256(public).hexdigest()[:32]
    return " ".join(digits[i : i + 4] for i in range(0, 32, 4))


def _message(signer: str, manifest: bytes) -> bytes:
    """Bind the name to the manifest, so that nobody can put another name over a signature."""
    return b"atlasgen signature 1\n" + signer.encode() + b"\n" + manifest


def is_sound(public: bytes, signature: bytes, message: bytes) -> bool:
    """Whether an Ed25519 signature (64 bytes) of a public key (32 bytes) fits a message."""
    from cryptography.exceptions import InvalidSignature
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey

    try:
        Ed25519PublicKey.from_public_bytes(public).verify(signature, message)
    except (InvalidSignature, ValueError):
        return False
    return True


def _private(path: Path) -> Any:
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
    from cryptography.hazmat.primitives.serialization import load_pem_private_key

    password = os.environ.get("ATLASGEN_KEY_PASSWORD")
    try:
        key = load_pem_private_key(_bytes(path), password.encode() if password else None)
    except (ValueError, TypeError) as error:
        step = "A key with a password takes it from ATLASGEN_KEY_PASSWORD. Make a key with: atlasgen keys."
        raise InputFault(path.name, error, "an Ed25519 private key (PEM)", step) from None
    if not isinstance(key, Ed25519PrivateKey):
        raise InputFault(path.name, "another kind of key", "an Ed25519 private key", "Make one with: atlasgen keys.")
    return key


def _public_bytes(path: Path) -> bytes:
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey
    from cryptography.hazmat.primitives.serialization import load_pem_public_key

    try:
        key = load_pem_public_key(_bytes(path))
    except ValueError as error:
        raise InputFault(path.name, error, "an Ed25519 public key (PEM)", "Ask the crew for it again.") from None
    if not isinstance(key, Ed25519PublicKey):
        raise InputFault(path.name, "another kind of key", "an Ed25519 public key", "Ask the crew for it again.")
    return key.public_bytes_raw()


def _bytes(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except FileNotFoundError:
        raise MissingInput(str(path), "Make a pair with: atlasgen keys NAME.") from None
