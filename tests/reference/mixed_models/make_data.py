"""Training-log shaped data with known truth, to compare the engine with R.

Sizes S (30 athletes, 200 days) and M (500 athletes, 300 days).

    python tests/reference/mixed_models/make_data.py S > S.csv

Each row is an athlete's day: intensity within athlete (int_w), bar, grip, weekly volume, the day before's rating
(lag1), and three outcomes drawn from a linear (y), a logistic (flare) and a cumulative-logit (pain) model with
correlated random intercepts and slopes on int_w. The draws are made in one fixed order: changing it changes the data.
"""

import sys

import numpy as np
import pandas as pd

SIZES = {"S": (30, 200, 11), "M": (500, 300, 12)}
"""Athletes, days, seed."""

EFFECTS = {
    "pain": {"intercept": 0.0, "int_w": 0.30, "ssb": -0.25, "cambered": 0.20, "grip": 0.15, "vol": 0.20, "lag1": 0.35},
    "flare": {
        "intercept": -3.2,
        "int_w": 0.30,
        "ssb": -0.25,
        "cambered": 0.20,
        "grip": 0.15,
        "vol": 0.20,
        "lag1": 0.25,
    },
    "y": {"intercept": 1.0, "int_w": 0.25, "ssb": -0.10, "cambered": 0.15, "grip": 0.08, "vol": 0.12, "lag1": 0.20},
}
RANDOM = {"pain": (1.2, 0.3, 0.3), "flare": (1.0, 0.3, 0.3), "y": (0.8, 0.2, 0.3)}
"""SD of the intercepts, SD of the slopes, correlation."""

THRESHOLDS = (1.75, 2.35, 2.95, 3.55, 4.15, 4.75, 5.35, 6.0, 6.8, 7.8)
BARS = np.array(["1straight", "ssb", "cambered"])


def make_data(size: str) -> pd.DataFrame:
    """The data set of a size, one row an athlete and day."""
    n_athletes, n_days, seed = SIZES[size]
    rng = np.random.default_rng(seed)
    shape = (n_athletes, n_days)
    intensity_noise, volume_noise = rng.normal(size=shape), rng.normal(size=shape)
    intensity = _autoregressive(intensity_noise, 0.5, np.sqrt(0.75))
    volume = _autoregressive(volume_noise, 0.85, np.sqrt(1 - 0.85**2))
    within = intensity - intensity.mean(axis=1, keepdims=True)
    preference = rng.dirichlet([4, 1.5, 1.0], size=n_athletes)
    bar = (rng.random(shape)[..., None] > preference.cumsum(axis=1)[:, None, :]).sum(axis=-1).clip(0, 2)
    grip = np.round(rng.normal(size=n_athletes), 1)[:, None] + np.round(rng.normal(scale=0.4, size=shape), 1)
    effects = {outcome: _random_effects(rng, outcome, n_athletes) for outcome in ("pain", "flare", "y")}
    predictor = {outcome: _without_lag(outcome, effects[outcome], within, bar, grip, volume) for outcome in effects}
    pain, lag = _ratings(rng, predictor["pain"])
    probability = 1 / (1 + np.exp(-(predictor["flare"] + EFFECTS["flare"]["lag1"] * lag)))
    flare = (rng.random(shape) < probability).astype(int)
    y = predictor["y"] + EFFECTS["y"]["lag1"] * lag + rng.normal(size=shape)
    return pd.DataFrame(
        {
            "athlete": np.repeat([f"a{i:05d}" for i in range(n_athletes)], n_days),
            "day": np.tile(np.arange(n_days), n_athletes),
            "int_w": within.ravel(),
            "bar": BARS[bar].ravel(),
            "grip": grip.ravel(),
            "vol": volume.ravel(),
            "lag1": lag.ravel(),
            "y": y.ravel(),
            "flare": flare.ravel(),
            "pain": pain.ravel(),
        }
    )


def _autoregressive(noise: np.ndarray, carry: float, scale: float) -> np.ndarray:
    series = np.zeros_like(noise)
    for day in range(noise.shape[1]):
        series[:, day] = (carry * series[:, day - 1] if day else 0.0) + noise[:, day] * scale
    return series


def _random_effects(rng: np.random.Generator, outcome: str, n_athletes: int) -> np.ndarray:
    sd0, sd1, correlation = RANDOM[outcome]
    shared = correlation * sd0 * sd1
    return rng.multivariate_normal([0, 0], [[sd0**2, shared], [shared, sd1**2]], size=n_athletes)


def _without_lag(
    outcome: str, b: np.ndarray, within: np.ndarray, bar: np.ndarray, grip: np.ndarray, volume: np.ndarray
) -> np.ndarray:
    """Linear predictor but for the day before's rating."""
    beta = EFFECTS[outcome]
    by_bar = np.array([0.0, beta["ssb"], beta["cambered"]])
    slope = beta["int_w"] + b[:, [1]]
    return beta["intercept"] + slope * within + by_bar[bar] + beta["grip"] * grip + beta["vol"] * volume + b[:, [0]]


def _ratings(rng: np.random.Generator, predictor: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Ratings day by day, each day knowing the one before. Returns (ratings, the day before's ratings)."""
    noise = rng.logistic(size=predictor.shape)
    ratings, lag = np.zeros(predictor.shape, dtype=int), np.zeros(predictor.shape)
    before = np.zeros(len(predictor))
    for day in range(predictor.shape[1]):
        lag[:, day] = before
        latent = predictor[:, day] + EFFECTS["pain"]["lag1"] * before + noise[:, day]
        ratings[:, day] = (latent[:, None] > np.array(THRESHOLDS)).sum(axis=1)
        before = ratings[:, day].astype(float)
    return ratings, lag


if __name__ == "__main__":
    make_data(sys.argv[1] if len(sys.argv) > 1 else "S").to_csv(sys.stdout, index=False, float_format="%.10g")
