"""How many lifters and weeks would a question need? Seasons of each size are simulated and graded as `review` does it.

    python -m preflare.simulate.precision --contrast safety --lifters 12 24 48 --weeks 20 40 --seasons 20

Each line gives, for one size of squad and length of season: the standard error of the difference per 100 sessions,
half the width of its 95 % interval, and in how many seasons the contrast was graded `clear` or had too little data.
Below the table stands what the square-root rule makes of it: the standard error falls with the root of the number of
lifters (analysis plan, section 4), so that lifters needed = lifters now x (standard error now / wanted)^2.
"""

import argparse
import math
from collections.abc import Sequence
from dataclasses import dataclass

from preflare.findings.gate import TWO_SIDED_5_PERCENT_80_POWER, WANTED_DIFFERENCE
from preflare.simulate import error_rates
from preflare.simulate.calibrate import season_seed
from preflare.simulate.error_rates import IDS, Figure
from preflare.simulate.outcomes import Outcome, season_outcome

SEED = 2027


@dataclass(frozen=True)
class Precision:
    """What seasons of one size told of one contrast. standard_error, half_width: per 100 sessions."""

    n_athletes: int
    weeks: int
    standard_error: Figure
    half_width: Figure
    clear: Figure
    too_little: Figure


def precision(world: str, contrast: str, n_athletes: int, weeks: int, seasons: int, seed: int = SEED) -> Precision:
    """Simulate `seasons` seasons of one size and see how well they answer one contrast."""
    outcomes = [
        season_outcome(world, n_athletes, index, season_seed(seed, (world, n_athletes), 1000 * weeks + index), weeks)
        for index in range(seasons)
    ]
    return summarised(outcomes, contrast, n_athletes, weeks)


def summarised(outcomes: Sequence[Outcome], contrast: str, n_athletes: int, weeks: int) -> Precision:
    """One contrast's precision over the outcomes of seasons of one size."""
    answers = error_rates.answers_to(outcomes, contrast)
    widths = [answer.high - answer.low for answer in answers if answer.low is not None and answer.high is not None]
    return Precision(
        n_athletes=n_athletes,
        weeks=weeks,
        standard_error=error_rates.mean_standard_error(outcomes, contrast),
        half_width=error_rates.mean([width / 2 for width in widths]),
        clear=error_rates.graded(outcomes, contrast),
        too_little=error_rates.graded(outcomes, contrast, "too little data"),
    )


def lifters_needed(n_athletes: int, standard_error: float, difference: float = WANTED_DIFFERENCE) -> int:
    """Lifters who would tell `difference` per 100 from none (80 % power, two-sided 5 %), by the square-root rule."""
    wanted = difference / TWO_SIDED_5_PERCENT_80_POWER
    return math.ceil(n_athletes * (standard_error / wanted) ** 2)


def precision_table(contrast: str, found: Sequence[Precision]) -> str:
    """One line a size, then the lifters needed."""
    lines = [
        f"{contrast}, per 100 squat sessions (Monte Carlo errors in brackets)",
        f"{'lifters':>8}{'weeks':>7}{'seasons':>9}{'standard error':>17}{'half width':>15}{'clear %':>14}"
        f"{'too little %':>15}",
    ]
    for one in found:
        lines.append(
            f"{one.n_athletes:>8}{one.weeks:>7}{one.clear.n:>9}{_two(one.standard_error):>17}{_two(one.half_width):>15}"
            f"{one.clear!s:>14}{one.too_little!s:>15}"
        )
    for one in found:
        if one.standard_error.n:
            needed = lifters_needed(one.n_athletes, one.standard_error.value)
            lines.append(
                f"Over {one.weeks} weeks, from {one.n_athletes} lifters: about {needed} lifters would tell "
                f"{WANTED_DIFFERENCE:.0f} more or fewer per 100 from none."
            )
    return "\n".join(lines)


def _two(figure: Figure) -> str:
    return f"{figure.value:.2f} ({figure.error:.2f})" if figure.n else "-"


def main(arguments: Sequence[str] | None = None) -> None:
    parser = argparse.ArgumentParser(
        prog="python -m preflare.simulate.precision",
        description=__doc__,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--contrast", choices=IDS, default="safety")
    parser.add_argument("--lifters", type=int, nargs="+", default=[12, 24, 48])
    parser.add_argument("--weeks", type=int, nargs="+", default=[40])
    parser.add_argument("--seasons", type=int, default=20, help="simulated seasons of each size")
    parser.add_argument("--world", default="plant")
    parser.add_argument("--seed", type=int, default=SEED)
    given = parser.parse_args(arguments)
    sizes = [(n, weeks) for weeks in given.weeks for n in given.lifters]
    found = [precision(given.world, given.contrast, n, weeks, given.seasons, given.seed) for n, weeks in sizes]
    print(precision_table(given.contrast, found))


if __name__ == "__main__":
    main()
