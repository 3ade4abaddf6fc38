"""Where the seconds of the statistics go, by stage.

    OMP_NUM_THREADS=1 python tests/benchmarks/findings_speed.py     # the demo logs, on one core

Takes the demo logs (or those named) through a store, then runs the stages of `review` one after another, as it does.
"""

import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np

from preflare.findings import athletes, before_onset, case_crossover, curves, lags, review, surveillance
from preflare.findings.checks import without_one_check
from preflare.findings.contrasts import FAMILY
from preflare.findings.elsewhere import fit_elsewhere
from preflare.findings.evidence import grade_season
from preflare.findings.fitting import _fit_lead, _model_set, fit_ordinal
from preflare.findings.flare_ups import flare_up_sessions
from preflare.findings.residuals import residual_checks
from preflare.findings.review import RISES, flare_ups
from preflare.findings.sensitivity import fit_other_choices
from preflare.models.design import primary_design, sets_design
from preflare.models.rows import modelling_rows
from preflare.resources import resource
from preflare.season import Season


def stages(season: Season) -> list[tuple[str, float]]:
    """(stage, seconds) in the order in which a review goes through them; the whole review last."""
    seconds: list[tuple[str, float]] = []

    def timed(name: str, work: Callable[[], Any]) -> Any:
        begun = time.perf_counter()
        done = work()
        seconds.append((name, time.perf_counter() - begun))
        return done

    frame, settings = timed("model frame", season.frame), season.settings
    event = settings.event.rating
    rows = timed("modelling rows", lambda: modelling_rows(frame))
    main, sets = primary_design(rows, event), sets_design(rows, event)
    timed("primary model alone", lambda: fit_ordinal(main, event))
    timed("main: ordinal, logistic, linear, linear risk", lambda: _model_set(main, event))
    timed("sets: ordinal, logistic, linear, linear risk", lambda: _model_set(sets, event))
    timed("lead model", lambda: _fit_lead(rows, event))
    graded = timed("all of grading, these fits included", lambda: grade_season(frame, event))
    fits = graded.fits
    one_step = [lambda c=c: without_one_check(fits.models(c.id).primary, c) for c in FAMILY]
    timed("  of it: one lifter left out, by one step", lambda: [work() for work in one_step])
    flares = {rise: flare_up_sessions(rows.frame, settings.flare_up, rise).to_numpy(float) for rise in RISES}
    timed("main: other choices", lambda: fit_other_choices(fits.main, event, flares, weigh=True))
    timed("sets: other choices", lambda: fit_other_choices(fits.sets, event, flares, weigh=False))
    both = (fits.main.primary, fits.sets.primary)
    timed("residuals", lambda: [residual_checks(fitted, np.random.default_rng(1)) for fitted in both])
    timed("pain elsewhere", lambda: fit_elsewhere(fits))
    timed("curves", lambda: [curves.fit_curve(rows, name, event) for name in curves.CURVES])
    timed("lags", lambda: lags.lag_record(lags.fit_lags(frame, rows, event)))
    onsets = timed("flare-ups", lambda: flare_ups(frame, settings, {}))
    timed("case-crossover", lambda: case_crossover.case_crossover(frame, settings.flare_up))
    timed("before onsets", lambda: before_onset.before_onset(frame, onsets))
    timed("surveillance", lambda: surveillance.surveillance(frame, onsets, {}, event))
    found = timed("the whole review", lambda: review(frame, settings))
    timed("  of it: athletes' own estimates", lambda: athletes.athletes(frame, graded, found["findings"], onsets, {}))
    return seconds


def main() -> None:
    logs = [Path(name) for name in sys.argv[1:]] or [resource("demo_logs")]
    with tempfile.TemporaryDirectory() as folder, Season.open(Path(folder) / "season.duckdb") as season:
        season.import_logs(logs)
        for name, seconds in stages(season):
            print(f"{name:<48}{seconds:>7.2f} s")


if __name__ == "__main__":
    main()
