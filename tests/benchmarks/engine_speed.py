"""How long the engine's fits take, beside R's lme4, ordinal and glmmTMB where R is there.

    python tests/benchmarks/engine_speed.py [S] [M] [primary] [--out engine_speed.txt]

S and M: the simulated data of tests/reference/mixed_models (6,000 and 150,000 rows), each fit with its standard errors.
primary: a design of the size of one squad's season, 24 athletes, about 95 sessions each, 45 columns, 8 random terms.
CPU seconds (user and system), one thread: the median of seven runs of ours (M: three), of three of R's (one run of
ordinal's, most of two minutes). The bounds that we hold ourselves to stand beside the ratios, with the peak memory of
ours. Without R's packages that part is left out, and the output says so. Compare ratios of one run: machines differ.
"""

import os

os.environ.setdefault("OMP_NUM_THREADS", "1")
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import argparse
import platform
import resource
import shutil
import statistics
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
BOUNDS = {
    "logistic, intercept": 30,
    "logistic, slopes": 30,
    "cumulative, intercept": 300,
    "cumulative, slopes": 1000,
}
"""How many times R's time of ours a fit of S must take at least."""
LARGE_BOUND = 40
"""How many times the time of S a fit of M, 25 times the rows, may take."""
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
    """The median, after one call that fills caches."""
    call()
    taken = []
    for _ in range(runs):
        start = time.process_time()
        call()
        taken.append(time.process_time() - start)
    return statistics.median(taken)


def r_seconds(frame: pd.DataFrame) -> tuple[dict[str, float], str]:
    """CPU seconds of R's fits, and what ran them; no seconds, with the reason, where R or its packages are missing."""
    rscript = shutil.which("Rscript")
    if rscript is None:
        return {}, f"R is not on this machine; its fits are left out (Debian: {', '.join(R_PACKAGES.values())})"
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "data.csv"
        frame.to_csv(path, index=False)
        answer = subprocess.run([rscript, "-e", r_script(path)], capture_output=True, text=True, check=False)
    if answer.returncode:
        return {}, f"R's part failed and is left out: {answer.stderr.strip().splitlines()[-1]}"
    found = dict(line.split("=", 1) for line in answer.stdout.splitlines() if "=" in line)
    versions = found.pop("versions")
    return {name: float(seconds) for name, seconds in found.items()}, versions


def r_script(data: Path) -> str:
    """Each fit with its covariance; the median of three, of a slow one its only run."""
    lines = [f"suppressMessages(library({name}))" for name in R_PACKAGES]
    lines += [f"d <- read.csv('{data}', stringsAsFactors = TRUE)", "d$rating <- factor(d$pain, ordered = TRUE)"]
    for name, (package, call) in R_FITS.items():
        once = f"{{s <- system.time({{m <- {call}; v <- vcov(m)}}); s[[1]] + s[[2]]}}"
        runs = 1 if package == "ordinal" else 3
        lines.append(f"cat('{name}=', median(replicate({runs}, {once})), '\\n', sep = '')")
    packages = ", ".join(f"'{name}', as.character(packageVersion('{name}'))" for name in R_PACKAGES)
    lines.append(f"cat('versions=', paste(R.version.string, {packages}), '\\n', sep = '')")
    return "\n".join(lines)


def verdict(ratio: float, bound: float, at_least: bool) -> str:
    """The bound and whether it is met."""
    met = ratio >= bound if at_least else ratio <= bound
    return f"  {'at least' if at_least else 'at most'} {bound:.0f}: {'met' if met else 'MISSED'}"


def report_small(
    calls: dict[str, Callable[[], object]], theirs: dict[str, float]
) -> tuple[list[str], dict[str, float]]:
    """Lines of S, and our seconds by fit."""
    lines, ours = [], {}
    for name, call in calls.items():
        ours[name] = cpu_seconds(call, 7)
        line = f"  {name:36} {ours[name]:8.4f} s"
        if name in theirs:
            ratio = theirs[name] / ours[name]
            line += f"   R {R_FITS[name][0]:8} {theirs[name]:8.2f} s   ratio {ratio:6.0f}"
            line += verdict(ratio, BOUNDS[name], at_least=True) if name in BOUNDS else ""
        lines.append(line)
    return lines, ours


def report_large(calls: dict[str, Callable[[], object]], small: dict[str, float]) -> list[str]:
    """Lines of M, against S where that ran too."""
    lines = []
    for name, call in calls.items():
        seconds = cpu_seconds(call, 3)
        line = f"  {name:36} {seconds:8.4f} s"
        if name in small:
            ratio = seconds / small[name]
            line += f"   times S {ratio:5.1f}{verdict(ratio, LARGE_BOUND, at_least=False)}"
        lines.append(line)
    return lines


def peak_memory() -> str:
    return f"  peak memory of this process so far {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MB"


def run(wanted: list[str]) -> list[str]:
    """Every line of the report."""
    lines = [f"Python {platform.python_version()}, numpy {np.__version__}, {platform.machine()}, one thread"]
    lines.append(peak_memory() + " (imports alone)")
    small: dict[str, float] = {}
    if "S" in wanted:
        frame = make_data("S")
        theirs, note = r_seconds(frame)
        made, small = report_small(fits(frame), theirs)
        lines += ["", f"S: {len(frame)} rows; {note}", *made, peak_memory()]
    if "primary" in wanted:
        timed = [f"  {name:36} {cpu_seconds(call, 3):8.4f} s" for name, call in primary_fits().items()]
        lines += ["", "One squad's season", *timed, peak_memory()]
    if "M" in wanted:
        frame = make_data("M")
        lines += ["", f"M: {len(frame)} rows", peak_memory() + " (data alone)"]
        lines += [*report_large(fits(frame), small), peak_memory()]
    return lines


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("parts", nargs="*", metavar="S|M|primary", help="all three where none is named")
    parser.add_argument("--out", type=Path)
    asked = parser.parse_args()
    unknown = set(asked.parts) - {"S", "M", "primary"}
    if unknown:
        parser.error(f"no part is called {', '.join(sorted(unknown))}")
    text = "\n".join(run(asked.parts or ["S", "M", "primary"]))
    print(text)
    if asked.out:
        asked.out.write_text(text + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
