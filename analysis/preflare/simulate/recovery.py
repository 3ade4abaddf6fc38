"""From logs to findings and back to the truth: the whole way, seed by seed, estimate beside planted truth.

    python -m preflare.simulate.recovery --seeds 21

Every season is written as untidy logs, read, stored, turned into the model frame and graded, as `review` does it.
"""

import argparse
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from preflare.exposures import model_frame
from preflare.findings.evidence import grade_season
from preflare.reading import read_logs
from preflare.settings import load_settings
from preflare.simulate import error_rates
from preflare.simulate.error_rates import IDS
from preflare.simulate.logs import DEMO_ATHLETES, DEMO_WORLD, write_logs
from preflare.simulate.outcomes import Answer, Outcome, judged
from preflare.simulate.truth import truth
from preflare.simulate.worlds import simulate_season
from preflare.store import Store


@dataclass(frozen=True)
class Recovered:
    """One season's way through the rooms. sessions, reported: in the model frame, and in the season itself."""

    outcome: Outcome
    sessions: int
    reported: int
    true_sessions: int
    true_reported: int


def recover(seed: int, folder: Path, world: str = DEMO_WORLD, n_athletes: int = DEMO_ATHLETES) -> Recovered:
    """Write one season's logs into the empty `folder`, read them back, grade, and set the answers beside the truth."""
    season = simulate_season(world, n_athletes, seed)
    logs = folder / "logs"
    write_logs(season, logs, seed)
    settings = load_settings(logs / "season.toml")
    with Store.open(folder / "season.duckdb") as store:
        text = (logs / "season.toml").read_text(encoding="utf-8")
        store.import_logs(read_logs([logs], settings), settings, text)
        frame = model_frame(store)
    graded = grade_season(frame, settings.event.rating)
    return Recovered(
        outcome=judged(world, n_athletes, seed, graded, truth(season)),
        sessions=len(frame),
        reported=int(frame["rating"].notna().sum()),
        true_sessions=int(season.trained.sum()),
        true_reported=int((season.reported & season.trained).sum()),
    )


def seed_lines(found: Recovered) -> list[str]:
    """One season's answers, a line a contrast: truth, raw difference, adjusted estimate and interval, per 100."""
    lines = [
        f"seed {found.outcome.index}: {found.sessions} of {found.true_sessions} sessions, "
        f"{found.reported} of {found.true_reported} reports",
        f"  {'contrast':<11}{'truth':>7}{'raw':>8}{'estimate':>9}",
    ]
    return lines + [_answer_line(answer) for answer in found.outcome.answers]


def _answer_line(answer: Answer) -> str:
    raw = "-" if answer.raw is None else f"{answer.raw:+.1f}"
    if answer.per_100 is None:
        return f"  {answer.id:<11}{answer.truth:>+7.1f}{raw:>8}{'-':>9}{'':>20}  {'':<18}{answer.grade}"
    right = "right sign" if answer.per_100 * answer.truth > 0 else "other sign"
    if abs(answer.truth) < error_rates.NOTHING_TRUE:
        right = "(none true)"
    covers = "covers" if answer.covers else "misses"
    interval = f"({answer.low:+.1f} to {answer.high:+.1f})"
    numbers = f"{answer.truth:>+7.1f}{raw:>8}{answer.per_100:>+9.1f}{interval:>20}"
    return f"  {answer.id:<11}{numbers}  {covers} {right:<12}{answer.grade}"


def summary_lines(outcomes: Sequence[Outcome]) -> list[str]:
    """All seeds together, a line a contrast."""
    lines = [
        f"{len(outcomes)} seasons from logs to findings (per 100 sessions; Monte Carlo errors in brackets)",
        f"  {'contrast':<11}{'truth':>7}{'mean raw':>14}{'mean estimate':>15}{'right sign':>12}{'covers':>10}  grades",
    ]
    for name in IDS:
        answers = error_rates.answers_to(outcomes, name)
        shown = [answer for answer in answers if answer.per_100 is not None]
        raw = error_rates.mean([a.raw for a in answers if a.raw is not None])
        estimate = error_rates.mean([a.per_100 for a in shown if a.per_100 is not None])
        right = sum((a.per_100 or 0.0) * a.truth > 0 for a in shown)
        covering = sum(bool(a.covers) for a in shown)
        grades = [a.grade for a in answers]
        counted = ", ".join(f"{grades.count(grade)} {grade}" for grade in sorted(set(grades), key=grades.count)[::-1])
        lines.append(
            f"  {name:<11}{error_rates.mean_truth(outcomes, name):>+7.1f}"
            f"{f'{raw.value:+.1f} ({raw.error:.1f})':>14}{f'{estimate.value:+.1f} ({estimate.error:.1f})':>15}"
            f"{f'{right}/{len(shown)}':>12}{f'{covering}/{len(shown)}':>10}  {counted}"
        )
    lines.append(
        f"  false clear per report {error_rates.false_clear(outcomes)} %, "
        f"wrong-sign clear {error_rates.wrong_sign_clear(outcomes)} %"
    )
    return lines


def main(arguments: Sequence[str] | None = None) -> None:
    parser = argparse.ArgumentParser(
        prog="python -m preflare.simulate.recovery",
        description=__doc__,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--seeds", type=int, default=1, help="seeds 1 to this one")
    parser.add_argument("--first", type=int, default=1, help="begin with this seed")
    parser.add_argument("--world", default=DEMO_WORLD)
    parser.add_argument("--athletes", type=int, default=DEMO_ATHLETES)
    given = parser.parse_args(arguments)
    outcomes = []
    for seed in range(given.first, given.seeds + 1):
        with tempfile.TemporaryDirectory() as folder:
            found = recover(seed, Path(folder), given.world, given.athletes)
        outcomes.append(found.outcome)
        print("\n".join(seed_lines(found)), flush=True)
    print()
    print("\n".join(summary_lines(outcomes)))


if __name__ == "__main__":
    main()
