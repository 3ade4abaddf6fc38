"""A store filled from hand-made logs, and the frame or view that a test looks at."""

from collections.abc import Callable
from pathlib import Path

import pandas as pd
import pytest

from hand_logs import HandLogs
from preflare.exposures import model_frame
from preflare.settings import Settings, parse_settings
from preflare.store import Store

View = Callable[..., pd.DataFrame]


@pytest.fixture
def view(tmp_path: Path) -> View:
    """view(logs, "name", toml="...") imports the logs into a new store and returns the view; "frame": the model frame.

    The view's own key and checks, as its header words them, are tested on the way.
    """

    def imported(logs: HandLogs, name: str = "frame", toml: str = "") -> pd.DataFrame:
        settings = parse_settings(toml) if toml else Settings()
        path = tmp_path / "season.duckdb"
        path.unlink(missing_ok=True)
        with Store.open(path) as store:
            store.import_logs(logs.done(), settings, toml)
            assert store.verify("model_frame" if name == "frame" else name) == []
            return model_frame(store) if name == "frame" else store.frame(name)

    return imported
