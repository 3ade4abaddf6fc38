"""Seasons and fits that several tests of the findings share, made once."""

from typing import Any

import pandas as pd
import pytest

from preflare.findings import review
from preflare.findings.evidence import Graded, grade_season
from preflare.settings import Settings
from preflare.simulate.frames import world_frame
from preflare.simulate.worlds import simulate_season


@pytest.fixture(scope="session")
def plant_frame() -> pd.DataFrame:
    """One simulated season in which causes are planted: 24 lifters, 40 weeks."""
    return world_frame(simulate_season("plant", 24, 5))


@pytest.fixture(scope="session")
def plant_graded(plant_frame: pd.DataFrame) -> Graded:
    return grade_season(plant_frame)


@pytest.fixture(scope="session")
def plant_found(plant_frame: pd.DataFrame) -> dict[str, Any]:
    """The whole findings of that season, for tests that read them and change nothing."""
    return review(plant_frame, Settings())
