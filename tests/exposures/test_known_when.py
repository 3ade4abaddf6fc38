"""Nothing that was not known: what comes later may not change a row's exposures, nor may the order of the imports."""

from datetime import timedelta

import pandas as pd
import pytest

from hand_logs import joined, on, random_season
from preflare.exposures import MODEL_FRAME, model_frame
from preflare.settings import Settings
from preflare.store import Store

OUTCOME = ["rating", "rating_first", "n_reports", "rating_elsewhere"]
# Whether an athlete logs other lifts at all is one fact of the whole store; ids are numbered by what is there.
NOT_COMPARED = {"session_id", "logs_other_lifts", "pressing_7d", "pulling_7d", "elbow_flexion_7d"}


def frame_of(path, *logs):
    with Store.open(path) as store:
        for one in logs:
            store.import_logs(one, Settings(), "")
        return model_frame(store)


def up_to(logs, last):
    """The same logs as they stood on the evening of the day `last`."""
    for name in ("sets", "sessions", "pain", "screens"):
        rows = getattr(logs, name)
        rows[:] = [row for row in rows if row.date <= last]
    return logs


@pytest.mark.parametrize(("seed", "day"), [(4, 20), (6, 55)])
def test_later_days_change_no_exposure_of_an_earlier_session(tmp_path, seed, day):
    whole = frame_of(tmp_path / "whole.duckdb", random_season(seed).done())
    cut = frame_of(tmp_path / "cut.duckdb", up_to(random_season(seed).done(), on(day)))
    known = [c.name for c in MODEL_FRAME if not c.name.startswith("lead_") and c.name not in {*NOT_COMPARED, *OUTCOME}]
    earlier = whole[whole.date <= pd.Timestamp(on(day))].reset_index(drop=True)
    assert len(earlier) > 20
    pd.testing.assert_frame_equal(earlier[known], cut[known])
    settled = earlier.date <= pd.Timestamp(on(day) - timedelta(days=2))  # the outcome window has closed
    pd.testing.assert_frame_equal(earlier.loc[settled, OUTCOME], cut.loc[settled, OUTCOME])


def test_order_of_the_imports_does_not_matter(tmp_path):
    def parts():
        training, pain = random_season(7).done(), random_season(7, "form.csv").done()
        training.pain, pain.sets, pain.sessions = [], [], []
        return training, pain

    one, other = parts()
    forwards = frame_of(tmp_path / "a.duckdb", one, other)
    one, other = parts()
    backwards = frame_of(tmp_path / "b.duckdb", other, one)
    one, other = parts()
    at_once = frame_of(tmp_path / "c.duckdb", joined(one, other))
    columns = [c.name for c in MODEL_FRAME if c.name != "session_id"]
    assert forwards.rating.notna().sum() > 10
    pd.testing.assert_frame_equal(forwards[columns], backwards[columns])
    pd.testing.assert_frame_equal(forwards[columns], at_once[columns])
