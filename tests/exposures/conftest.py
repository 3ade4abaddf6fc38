"""A store filled from hand-made logs, and the frame or view that a test looks at."""

from collections.abc import Callable, Iterator

import pandas as pd
import pytest

from hand_logs import HandLogs
from preflare.exposures import model_frame
from preflare.settings import Settings, parse_settings
from preflare.store import Store

View = Callable[..., pd.DataFrame]


@pytest.fixture(scope="session")
def shared_store(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    """One store for all: every hand-made log is log.csv, so that each import takes the place of the one before."""
    with Store.open(tmp_path_factory.mktemp("exposures") / "season.duckdb") as store:
        yield store


@pytest.fixture
def view(shared_store: Store) -> View:
    """view(logs, "name", toml="...") imports the logs and returns the view; "frame": the model frame.

    The view's own key and checks, as its header words them, are tested on the way.
    """

    def imported(logs: HandLogs, name: str = "frame", toml: str = "") -> pd.DataFrame:
        assert logs.file == "log.csv"
        shared_store.import_logs(logs.done(), parse_settings(toml) if toml else Settings(), toml)
        assert shared_store.verify("model_frame" if name == "frame" else name) == []
        if name == "frame":
            return model_frame(shared_store)
        # A view without an order of its own comes in any order that DuckDB's threads leave it in.
        rows = shared_store.frame(name)
        return rows.sort_values("session_id", kind="stable", ignore_index=True) if "session_id" in rows else rows

    return imported
