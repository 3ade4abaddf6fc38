"""How long the engine's fits take, beside R's lme4, ordinal and glmmTMB where R is there.

    python tests/benchmarks/engine_speed.py [S] [M] [primary]

S and M: the simulated data of tests/reference/mixed_models (6,000 and 150,000 rows), each fit with its standard errors.
primary: a design of the size of one squad's season, 24 athletes, about 95 sessions each, 45 columns, 8 random terms.
CPU seconds, the best of three (M: one run), and the peak memory of the process. Without R's packages that part is left
out, and the output says so. Compare ratios of one run only: machines differ.
"""

import os

os.environ.setdefault("OMP_NUM_THREADS", "1")

import platform
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pandas as pd

sys.path.insert(0, str(Path(__file__).parents[1]))

from preflare.models.cumulative import fit_cumulative
from preflare.models.linear import fit_linear
from preflare.models.logistic import fit_logistic
from reference.mixed_models.make_data import make_data

R_PACKAGES = {"lme4": "r-cran-lme4", "ordinal": "r-cran-ordinal", "glmmTMB": "r-cran-glmmtmb"}
R_FITS = {
    "linear, slopes": ("lme4", "lmer(y ~ int_w + bar + grip + vol + lag1 + (1 + int_w | athlete), d)"),
    "logistic, intercept": (
        "glmmTMB",
        "glmmTMB(flare ~ int_w + bar + grip + vol + lag1 + (1 | athlete), d, binomial)",
    ),
    "logistic, slopes": (
        "glmmTMB",
        "glmmTMB(flare ~ int_w + bar + grip + vol + lag1 + (1 + int_w | athlete), d, binomial)",
    ),
    "cumulative, intercept": ("ordinal", "clmm(rating ~ int_w + bar + grip + vol + lag1 + (1 | athlete), d)"),
    "cumulative, slopes": ("ordinal", "clmm(rating ~ int_w + bar + grip + vol + lag1 + (1 + int_w | athlete), d)"),
}


def fits(frame: pd.DataFrame) -> dict[str, Callable[[], object]]:
    """The timed fits of a simulated data set, by name."""
    bars = [frame["bar"].eq("cambered"), frame["bar"].eq("ssb")]
    X = np.column_stack([frame["int_w"], *bars, frame[["grip", "vol", "lag1"]]]).astype(float)
    ones, group = np.ones((len(frame), 1)), pd.factorize(frame["athlete"])[0]
    slopes, with_intercept = np.column_stack([ones, frame["int_w"]]), np.column_stack([ones, X])
    y, flare, pain = (frame[name].to_numpy() for name in ("y", "flare", "pain"))
    return {
        "linear, slopes": lambda: fit_linear(y, with_intercept, slopes, group, random="correlated"),
        "logistic, intercept": lambda: fit_logistic(flare, with_intercept, ones, group),
        "logistic, slopes": lambda: fit_logistic(flare, with_intercept, slopes, group, random="correlated"),
        "cumulative, intercept": lambda: fit_cumulative(pain, X, ones, group),
        "cumulative, slopes": lambda: fit_cumulative(pain, X, slopes, group, random="correlated"),
    }


def primary_fits(n_athletes: int = 24) -> dict[str, Callable[[], object]]:
    """Fits of the size of the primary model, on a drawn season."""
    rng = np.random.default_rng(1)
    sizes = rng.integers(75, 115, n_athletes)
    group = np.repeat(np.arange(n_athletes), sizes)
    n = len(group)
    X = rng.normal(size=(n, 45))
    X[:, 1:6] = rng.random((n, 5)) < [0.17, 0.05, 0.2, 0.15, 0.1]
    Z = np.column_stack([np.ones(n), X[:, :7]])
    b = rng.normal(size=(n_athletes, 8)) * [1.1, 0.25, 0.25, 0.0, 0.2, 0.0, 0.0, 0.1]
    effects = np.append([0.5, -0.6, -0.5, 0.5, 0.0, 0.2, 0.3], rng.normal(size=38) * 0.1)
    latent = X @ effects + (Z * b[group]).sum(axis=1) + rng.logistic(size=n)
    y = np.digitize(latent, [0.9, 1.4, 1.9, 2.4, 2.9, 3.4, 4.0, 4.6])
    with_intercept = np.column_stack([np.ones(n), X])
    return {
        f"cumulative, 8 terms, {n} rows": lambda: fit_cumulative(y, X, Z, group),
        f"cumulative, intercept, {n} rows": lambda: fit_cumulative(y, X, Z[:, :1], group),
        f"logistic, 8 terms, {n} rows": lambda: fit_logistic(y >= 4, with_intercept, Z, group),
        f"linear, 8 terms, {n} rows": lambda: fit_linear(y, with_intercept, Z, group),
    }


def cpu_seconds(call: Callable[[], object], runs: int) -> float:
    best = np.inf
    for _ in range(runs):
        start = time.process_time()
        call()
        best = min(best, time.process_time() - start)
    return float(best)


def r_seconds(frame: pd.DataFrame) -> dict[str, float]:
    """CPU seconds of R's fits; empty, with the reason printed, where R or its packages are missing."""
    rscript = shutil.which("Rscript")
    if rscript is None:
        print(f"R is not on this machine; its fits are left out (Debian: {', '.join(R_PACKAGES.values())})")
        return {}
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "data.csv"
        frame.to_csv(path, index=False)
        lines = [f"suppressMessages(library({name}))" for name in R_PACKAGES]
        lines += [f"d <- read.csv('{path}', stringsAsFactors = TRUE)", "d$rating <- factor(d$pain, ordered = TRUE)"]
        for name, (_, call) in R_FITS.items():
            lines.append(
                f"s <- system.time({{m <- {call}; v <- vcov(m)}}); cat('{name}=', s[[1]] + s[[2]], '\\n', sep='')"
            )
        answer = subprocess.run([rscript, "-e", "\n".join(lines)], capture_output=True, text=True, check=False)
    if answer.returncode:
        print(f"R's part failed and is left out: {answer.stderr.strip().splitlines()[-1]}")
        return {}
    return {name: float(seconds) for name, seconds in (line.split("=") for line in answer.stdout.splitlines())}


def report(title: str, calls: dict[str, Callable[[], object]], runs: int, theirs: dict[str, float]) -> None:
    print(f"\n{title}")
    for name, call in calls.items():
        ours = cpu_seconds(call, runs)
        beside = (
            f"   R {R_FITS[name][0]} {theirs[name]:8.2f} s   ratio {theirs[name] / ours:6.0f}" if name in theirs else ""
        )
        print(f"  {name:36} {ours:7.3f} s{beside}")


def main(wanted: list[str]) -> None:
    print(f"Python {platform.python_version()}, numpy {np.__version__}, {platform.machine()}, {os.cpu_count()} cores")
    for size in ("S", "M"):
        if size in wanted:
            frame = make_data(size)
            report(
                f"{size}: {len(frame)} rows",
                fits(frame),
                3 if size == "S" else 1,
                r_seconds(frame) if size == "S" else {},
            )
    if "primary" in wanted:
        report("One squad's season", primary_fits(), 3, {})
    print(f"\npeak memory {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MB")


if __name__ == "__main__":
    main(sys.argv[1:] or ["S", "M", "primary"])
