"""The house rules that a machine can hold."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

import atlasgen

PACKAGE = Path(atlasgen.__file__).parent
ROOMS = ("read", "place", "measure", "compose", "write", "ship")
FREE = {"model", "errors", "units"}
DISK = {"ship": {"resources", "workers"}, "write": {"resources", "workers"}, "read": {"workers"}}
FILES = sorted(PACKAGE.rglob("*.py"))


def imports(path: Path) -> set[str]:
    """Every module that a file imports, whatever the depth of the statement."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found |= {node.module} | {f"{node.module}.{alias.name}" for alias in node.names}
    return found


def ours(path: Path) -> set[str]:
    """First names below the package that a file imports."""
    names = {name.split(".")[1] for name in imports(path) if name.startswith("atlasgen.")}
    return names - {"__version__"}


@pytest.mark.parametrize("room", ROOMS)
def test_a_room_imports_only_from_rooms_to_its_left(room):
    """Read -> place -> measure -> compose -> write -> ship; model, errors and units are free to all."""
    left = set(ROOMS[: ROOMS.index(room) + 1])
    allowed = left | FREE | DISK.get(room, set())
    for path in sorted((PACKAGE / room).rglob("*.py")):
        assert ours(path) <= allowed, f"{path.name} imports {ours(path) - allowed}"


@pytest.mark.parametrize("room", ["place", "measure", "compose"])
def test_the_middle_never_touches_the_disk_nor_the_settings(room):
    """Pure rooms import nothing that opens files."""
    barred = {"pathlib", "os", "io", "shutil", "tempfile", "csv", "pyogrio", "geopandas", "PIL", "pyvips"}
    for path in sorted((PACKAGE / room).rglob("*.py")):
        roots = {name.split(".")[0] for name in imports(path)}
        assert not roots & barred, f"{path.name} imports {roots & barred}"
        calls = {
            n.func.id
            for n in ast.walk(ast.parse(path.read_text()))
            if isinstance(n, ast.Call) and isinstance(n.func, ast.Name)
        }
        assert not calls & {"open", "print", "input"}, f"{path.name} calls {calls & {'open', 'print', 'input'}}"


def test_model_and_errors_know_no_room():
    """The values and the errors stand below everything."""
    for path in [*sorted((PACKAGE / "model").glob("*.py")), PACKAGE / "errors.py", PACKAGE / "units.py"]:
        assert not ours(path) & ({*ROOMS, "cli", "pipeline", "config"}), path.name


@pytest.mark.parametrize("path", FILES, ids=lambda p: p.relative_to(PACKAGE).as_posix())
def test_files_and_functions_stay_short(path):
    """No file over 400 lines, no function over 50 code lines."""
    source = path.read_text(encoding="utf-8")
    assert source.count("\n") <= 400
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.FunctionDef):
            body = node.body[1:] if ast.get_docstring(node) else node.body
            length = body[-1].end_lineno - body[0].lineno + 1 if body else 0
            assert length <= 50, f"{node.name}: {length} lines"


def test_nothing_asks_for_the_time_of_day():
    """Same input, same bytes: no clock is read anywhere in the package."""
    for path in FILES:
        calls = {ast.unparse(n.func) for n in ast.walk(ast.parse(path.read_text())) if isinstance(n, ast.Call)}
        told = {c for c in calls if c.endswith((".now", ".utcnow", ".today")) or c in {"time.time", "uuid.uuid4"}}
        assert not told, f"{path.name} calls {told}"
