"""A wheel carries the queries, the templates and the demo logs, and the README's commands are the ones that CI runs."""

import re
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

CHECKOUT = Path(__file__).resolve().parents[1]
FOLDERS = ("queries", "reports", "demo_logs")


@pytest.fixture(scope="module")
def wheel(tmp_path_factory) -> zipfile.ZipFile:
    """The wheel that hatchling builds of this checkout, offline."""
    out = tmp_path_factory.mktemp("wheel")
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(out)],
        cwd=CHECKOUT, check=True, capture_output=True,
    )  # fmt: skip
    return zipfile.ZipFile(next(out.glob("*.whl")))


@pytest.mark.parametrize("folder", FOLDERS)
def test_the_wheel_holds_every_file_of_a_resource_folder(wheel, folder):
    kept = {
        path.relative_to(CHECKOUT / folder).as_posix()
        for path in (CHECKOUT / folder).rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }
    assert kept
    packed = {
        name.removeprefix(f"preflare/{folder}/") for name in wheel.namelist() if name.startswith(f"preflare/{folder}/")
    }
    assert packed == kept


def test_a_program_run_from_the_unpacked_wheel_finds_its_resources(wheel, tmp_path):
    wheel.extractall(tmp_path)
    code = f"from preflare.resources import resource; print(*(resource(n) for n in {FOLDERS}), sep='\\n')"
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=tmp_path, env={"PYTHONPATH": str(tmp_path)},
        capture_output=True, text=True, check=True,
    )  # fmt: skip
    assert done.stdout.split() == [str(tmp_path / "preflare" / folder) for folder in FOLDERS]


def test_the_checkout_finds_its_own_resources_and_not_a_copy():
    from preflare.resources import resource

    for folder in FOLDERS:
        assert resource(folder) == CHECKOUT / folder


def test_pins_name_no_host():
    pins = (CHECKOUT / "constraints.txt").read_text(encoding="utf-8")
    assert not re.search(r"https?:|--index|--find-links", pins)


@pytest.mark.skipif(shutil.which("awk") is None, reason="awk is not on this machine; CI runs on Debian, which has it")
def test_ci_takes_the_whole_test_command_from_the_readme():
    readme = (CHECKOUT / "README.md").read_text(encoding="utf-8")
    block = re.search(r"<!-- the test command -->\n```\n(.+?)\n```\n", readme, re.S)
    program = re.search(
        r"test_command=\$\(awk '(.+)' README.md\)", (CHECKOUT / ".ci" / "run").read_text(encoding="utf-8")
    )
    taken = subprocess.run(["awk", program[1], "README.md"], cwd=CHECKOUT, capture_output=True, text=True, check=True)
    assert taken.stdout.strip() == block[1]
    assert block[1].endswith("pytest -n auto")
