"""The list of published values names tests that exist, and says of every other value why it has none."""

import re
from pathlib import Path

LIST = Path(__file__).parent / "reference" / "published_values.md"
ROWS = [
    line.strip("| ").split(" | ") for line in LIST.read_text(encoding="utf-8").splitlines() if line.startswith("| ")
]
NAMED = re.compile(r"`(tests/[\w/]+\.py)::(\w+)`")


def test_every_named_test_is_there():
    root = LIST.parents[2]
    named = NAMED.findall(LIST.read_text(encoding="utf-8"))
    assert len(named) > 25
    for file, name in named:
        assert f"def {name}(" in (root / file).read_text(encoding="utf-8"), f"{file}::{name}"


def test_every_value_has_a_test_or_a_reason():
    for value, answer, *_ in ROWS[1:]:
        assert NAMED.search(answer) or re.search(r"\w{3,} .*\.", answer), value
