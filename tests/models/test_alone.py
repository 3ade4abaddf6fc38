"""The engine used alone: the example of its first page runs, and the page names every file."""

import re
from pathlib import Path

import preflare.models


def test_the_example_runs_as_printed(capsys):
    page = preflare.models.__doc__
    code = page[page.index("    import numpy") : page.index("\nThe map")]

    exec(compile(re.sub(r"^ {4}", "", code, flags=re.MULTILINE), "example", "exec"), {})

    printed = capsys.readouterr().out
    assert "('intensity',)" in printed
    assert "('separation', 'passed', 'every effect has a finite estimate')" in printed


def test_the_map_names_every_file_and_no_other():
    folder = Path(preflare.models.__file__).parent
    files = {path.stem for path in folder.glob("*.py")} - {"__init__"}
    the_map = preflare.models.__doc__.split("The map")[1].split("What takes a fit")[0]

    assert set(re.findall(r"`(\w+)`", the_map)) == files
