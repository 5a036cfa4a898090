"""Signatures: RFC 8032 section 7.1, tests 1 and 2 (values from memory), and who is told to have signed what."""

from __future__ import annotations

import json
import stat

import pytest
from click.testing import CliRunner
from cryptography.hazmat.primitives.serialization import (
    BestAvailableEncryption,
    Encoding,
    PrivateFormat,
    load_pem_private_key,
)

from atlasgen.cli import main
from atlasgen.errors import InputFault, MissingInput, OutputRefused
from atlasgen.ship.signing import SIGNATURE, fingerprint, is_sound, make_keys, sign_edition
from atlasgen.ship.verify import verify_edition
from atlasgen.write.edition import write_manifest


@pytest.mark.parametrize(
    ("public", "message", "signature"),
    [
        (
            "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a",
            "",
            "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b46bd25bf5f0595bb"
            "e24655141438e7a100b",
        ),
        (
            "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c",
            "72",
            "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302a"
            "eeb00d291612bb0c00",
        ),
    ],
)
def test_published_signatures_fit_and_their_neighbours_do_not(public, message, signature):
    """And no flipped bit of any of them does."""
    key, text, mark = (bytes.fromhex(value) for value in (public, message, signature))
    assert is_sound(key, mark, text)
    assert not is_sound(key, mark, text + b"\0")
    assert not any(is_sound(key, mark[:i] + bytes([mark[i] ^ 1]) + mark[i + 1 :], text) for i in range(64))
    assert not is_sound(key[:-1], mark, text)


@pytest.fixture
def atlas(tmp_path):
    folder = tmp_path / "atlas"
    folder.mkdir()
    (folder / "index.html").write_text("one")
    write_manifest(folder, {})
    return folder


@pytest.fixture
def pair(tmp_path):
    return make_keys(tmp_path / "crew")


def test_the_secret_key_is_only_the_crews_to_read_and_never_overwritten(pair, tmp_path):
    """Mode 600; a second pair of the same name is refused."""
    assert stat.S_IMODE(pair[0].stat().st_mode) == 0o600
    with pytest.raises(OutputRefused, match="is there already"):
        make_keys(tmp_path / "crew")


def test_a_customer_is_told_who_signed_or_that_nobody_did(atlas, pair):
    """Unsigned, signed by a key not known, by the key given, by another than the key given."""
    secret, public = pair
    assert verify_edition(atlas).signed.words == "Nobody signed it."
    assert not verify_edition(atlas, public).whole
    mark = sign_edition(atlas, secret, "The crew")
    verdict = verify_edition(atlas)
    assert (verdict.whole, verdict.signed.signer, verdict.signed.fingerprint) == (True, "The crew", mark)
    assert f"only its fingerprint tells: {mark}" in verdict.signed.words
    assert verify_edition(atlas, public).signed.words == "Signed by 'The crew' with the key you gave."
    _, other = make_keys(atlas.parent / "other")
    assert not verify_edition(atlas, other).whole


def test_a_signature_fits_one_edition_and_one_name(atlas, pair):
    """Another manifest, another name over it, and a file that is none."""
    sign_edition(atlas, pair[0], "The crew")
    signed = json.loads((atlas / SIGNATURE).read_text())
    (atlas / SIGNATURE).write_text(json.dumps(signed | {"signer": "Somebody"}))
    assert verify_edition(atlas).signed.words == "The signature of 'Somebody' does not fit this edition."
    (atlas / SIGNATURE).write_text(json.dumps(signed))
    (atlas / "index.html").write_text("two")
    write_manifest(atlas, {})
    verdict = verify_edition(atlas)
    assert (verdict.findings, verdict.whole) == ((), False)
    (atlas / SIGNATURE).write_text("{")
    assert verify_edition(atlas).signed.words == "manifest.sig cannot be read (JSONDecodeError)."


def test_keys_that_cannot_be_used_are_told(atlas, pair, tmp_path):
    """None there, no key at all, the public one in the place of the secret one, and the other way round."""
    with pytest.raises(MissingInput, match="atlasgen keys"):
        sign_edition(atlas, tmp_path / "no.key", "A")
    (tmp_path / "bad.key").write_text("hello")
    for path in (tmp_path / "bad.key", pair[1]):
        with pytest.raises(InputFault, match="an Ed25519 private key"):
            sign_edition(atlas, path, "A")
    with pytest.raises(InputFault, match="an Ed25519 public key"):
        verify_edition(atlas, pair[0])


def test_a_key_with_a_password_takes_it_from_the_environment(atlas, pair, tmp_path, monkeypatch):
    """Without it, and with a wrong one, the message says where it is looked for."""
    key = load_pem_private_key(pair[0].read_bytes(), None)
    locked = tmp_path / "locked.key"
    locked.write_bytes(key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, BestAvailableEncryption(b"open sesame")))
    for word in (None, "wrong"):
        if word:
            monkeypatch.setenv("ATLASGEN_KEY_PASSWORD", word)
        with pytest.raises(InputFault, match="takes it from ATLASGEN_KEY_PASSWORD"):
            sign_edition(atlas, locked, "The crew")
    monkeypatch.setenv("ATLASGEN_KEY_PASSWORD", "open sesame")
    sign_edition(atlas, locked, "The crew")
    assert verify_edition(atlas, pair[1]).whole


def test_a_fingerprint_can_be_read_aloud():
    """SHA-256 of nothing begins e3b0 c442 (FIPS 180-4's well-known value, from memory)."""
    assert fingerprint(b"") == "e3b0 c442 98fc 1c14 9afb f4c8 996f b924"


def test_keys_sign_verify_by_command(atlas, tmp_path):
    """As a crew and a customer would."""
    run = CliRunner().invoke
    assert run(main, ["keys", str(tmp_path / "ours")]).exit_code == 0
    signed = run(main, ["sign", str(atlas), "--key", str(tmp_path / "ours.key"), "--name", "Crew"])
    assert "signed as 'Crew'" in signed.output
    verified = run(main, ["verify", str(atlas), "--public", str(tmp_path / "ours.pub")])
    assert (verified.exit_code, "with the key you gave" in verified.output) == (0, True)
