"""What all tests share: no network, one built demo."""

from __future__ import annotations

import os
import pickle
import socket
from pathlib import Path

import pytest
from filelock import FileLock
from hypothesis import settings

settings.register_profile("steady", deadline=None, derandomize=True)
settings.load_profile("steady")

CHECKOUT = Path(__file__).resolve().parent.parent
DEMO = CHECKOUT / "demo_photos"


@pytest.fixture(autouse=True)
def _no_network(monkeypatch):
    """Let no test reach beyond this machine."""
    connect = socket.socket.connect

    def only_here(self, address):
        if isinstance(address, tuple) and address[0] not in ("127.0.0.1", "::1", "localhost"):
            pytest.fail(f"a test tried to reach {address}")
        return connect(self, address)

    monkeypatch.setattr(socket.socket, "connect", only_here)


@pytest.fixture(scope="session", autouse=True)
def _own_cache(tmp_path_factory):
    """Let no test use or leave anything in the user's own cache."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("ATLASGEN_CACHE", str(tmp_path_factory.mktemp("cache")))
        yield


@pytest.fixture(scope="session")
def demo_dir() -> Path:
    """Return the committed demo survey."""
    return DEMO


@pytest.fixture(scope="module")
def chromium():
    """Run one browser for the tests of a file."""
    from browser import launched

    with launched() as browser:
        yield browser


@pytest.fixture(scope="session")
def demo_build(tmp_path_factory, worker_id):
    """Build the demo once a run, whichever worker asks first: (folder of the edition, the atlas)."""
    from atlasgen.cache import opened
    from atlasgen.pipeline import build

    own = tmp_path_factory.getbasetemp()
    top = (own if worker_id == "master" else own.parent) / "demo"
    out, kept = top / "atlas", top / "atlas.pickle"
    top.mkdir(exist_ok=True)
    with FileLock(top / "lock"):
        if not kept.exists():
            # With a cache, as a crew builds it: everything that is remembered must have a fingerprint.
            with opened(out.with_name("cache.sqlite")) as memory:
                atlas = build(DEMO, out, workers=min(2, os.cpu_count() or 1), memory=memory)
            kept.write_bytes(pickle.dumps(atlas, protocol=5))
    return out, pickle.loads(kept.read_bytes())
