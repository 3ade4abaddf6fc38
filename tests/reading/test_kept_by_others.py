"""Logs that others kept, whose habits the reader has been taught, come back as their truth says."""

from pathlib import Path

import pytest

from reading.score import score

MENDED = sorted(path for path in (Path(__file__).parent / "kept_by_others" / "mended").iterdir() if path.is_dir())


@pytest.mark.parametrize("folder", MENDED, ids=lambda path: path.name)
def test_a_log_whose_habits_are_known_is_read(folder: Path) -> None:
    # 95 % of sets is the aim for any log; a wrong load that nothing points to is the worst that a reader can do.
    sets, _ = score(folder)
    assert sets.right >= 0.95 * sets.truth
    assert sets.silent_loads == 0
