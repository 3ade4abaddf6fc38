"""What a season holds beside squats, in the world where curls are the only cause of pain."""

import numpy as np

from preflare.simulate.constants import constants
from preflare.simulate.draws import Bools, Draws, Floats


class OtherLifts:
    """Presses, pulls and curls of a world in which curls are the only cause."""

    def __init__(self, n_athletes: int, draws: Draws) -> None:
        self.table = constants()["other_lifts"]
        self.draws = draws
        self.n = n_athletes
        self.week = np.ones((3, self.n))

    def new_week(self, volume: Floats) -> None:
        """How much of each kind this week asks for; curls partly follow the block's squat volume."""
        share = self.table["with_volume"]
        own = self.draws.normal((3, self.n))
        curls = share * volume + np.sqrt(1 - share**2) * own[2]
        self.week = np.exp(self.table["week_sd"] * np.stack([own[0], own[1], curls]))

    def session(self, nearness: Floats, reacting: Bools) -> dict[str, Floats]:
        """Working sets of the session: fewer near a competition, and fewer curls when the arm hurts."""
        noise = np.exp(self.table["session_sd"] * self.draws.normal((3, self.n)))
        eased = (1 + self.table["in_reaction"] * reacting) * (1 + self.table["by_nearness"] * nearness)
        pressing, pulling, curls = self.week * noise
        return {
            "pressing": np.rint(self.table["pressing"] * pressing),
            "pulling": np.rint(self.table["pulling"] * pulling),
            "elbow_flexion": np.rint(self.table["elbow_flexion"] * curls * eased),
        }

    def irritation(self, curls: Floats) -> Floats:
        """What the session's curls leave behind, beyond those of an ordinary session."""
        return np.asarray(self.table["curling_effect"] * (curls - self.table["elbow_flexion"]))
