"""The walls between the rooms: which part of the program may import which, and how quickly the commands answer."""

import ast
import subprocess
import sys
from pathlib import Path

import pytest

import preflare

PACKAGE = Path(preflare.__file__).parent
EVERYWHERE = {"errors", "settings", "resources", "__init__"}

# Data go one way: each room may import only from the rooms listed beside it (and from those open to everybody).
MAY_IMPORT = {
    "reading": set(),
    "store": {"reading"},
    "exposures": {"store"},
    "models": set(),
    "findings": {"models"},
    "reporting": {"findings"},
    "simulate": {"reading", "store", "exposures", "models", "findings"},
    "summary": {"store", "reporting"},
    "season": {"reading", "store", "exposures", "models", "findings", "reporting", "simulate", "summary"},
    "cli": {"season"},
}
# Outside libraries that a room must do without: reading knows no database, models and findings no file format.
MUST_NOT_USE = {
    "reading": {"duckdb", "statsmodels", "matplotlib", "jinja2", "typst"},
    "store": {"statsmodels", "matplotlib", "jinja2", "typst", "python_calamine"},
    "exposures": {"statsmodels", "matplotlib", "jinja2", "typst", "python_calamine"},
    "models": {"duckdb", "matplotlib", "jinja2", "typst", "python_calamine"},
    "findings": {"duckdb", "matplotlib", "jinja2", "typst", "python_calamine"},
    "reporting": {"duckdb", "statsmodels", "scipy", "python_calamine"},
}


def _room(path: Path) -> str:
    return path.relative_to(PACKAGE).parts[0].removesuffix(".py")


def _imports(path: Path) -> set[str]:
    """Every module that a file imports, at its top or inside a function."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {name.name for name in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path.name}: write imports in full, so that the walls can be seen"
            found.add(node.module or "")
            found |= {f"{node.module}.{name.name}" for name in node.names if node.module == "preflare"}
    return found


FILES = sorted(PACKAGE.rglob("*.py"))


@pytest.mark.parametrize("path", FILES, ids=lambda path: str(path.relative_to(PACKAGE)))
def test_a_room_imports_only_from_the_rooms_before_it(path):
    room = _room(path)
    if room in EVERYWHERE:
        return
    used = {name.split(".")[1] for name in _imports(path) if name.startswith("preflare.")} - EVERYWHERE - {room}
    used.discard("__version__")
    assert used <= MAY_IMPORT[room], f"{room} must not import {sorted(used - MAY_IMPORT[room])}"
    outside = {name.split(".")[0] for name in _imports(path)}
    assert not outside & MUST_NOT_USE.get(room, set())


def test_every_room_has_its_walls_written_down():
    assert {_room(path) for path in FILES} - EVERYWHERE <= set(MAY_IMPORT)


def _modules_loaded_by(code: str) -> set[str]:
    done = subprocess.run(
        [sys.executable, "-c", f"import sys; {code}; print('\\n'.join(sys.modules))"],
        capture_output=True, text=True, check=True,
    )  # fmt: skip
    return {name.split(".")[0] for name in done.stdout.split()}


def test_the_command_line_loads_no_heavy_library_until_a_command_runs():
    heavy = {"pandas", "polars", "numpy", "scipy", "statsmodels", "matplotlib", "duckdb", "pydantic", "rich", "jinja2"}
    assert not _modules_loaded_by("import preflare.cli") & heavy


def test_files_stay_readable_in_one_sitting():
    # "About 400 lines" is the house rule; the reason for an exception is written here beside its name.
    reasons: dict[str, str] = {}
    long = {
        str(path.relative_to(PACKAGE)): lines
        for path in FILES
        if (lines := len(path.read_text(encoding="utf-8").splitlines())) > 420
    }
    assert set(long) <= set(reasons), long
