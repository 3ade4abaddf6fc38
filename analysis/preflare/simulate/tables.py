"""The calibration as text: rates in per cent, differences per 100 sessions, Monte Carlo errors in brackets."""

from collections.abc import Sequence

from preflare.simulate import error_rates
from preflare.simulate.bounds import Results, Run, Verdict, verdicts
from preflare.simulate.error_rates import IDS
from preflare.simulate.outcomes import Outcome

VETOES = ("lead", "leave_one_out", "linear_risk_sign", "event_cut")


def calibration_table(results: Results) -> str:
    """The bounds of every run in `results`, then the runs themselves."""
    found = [one for one in verdicts(results) if one.bound.run in results]
    return "\n\n".join([bounds_table(found), *(run_table(run, outcomes) for run, outcomes in results.items())]) + "\n"


def bounds_table(found: Sequence[Verdict]) -> str:
    """One line a bound."""
    lines = ["Bounds of the analysis plan, section 8 (per cent; Monte Carlo error in brackets)", ""]
    lines.append(f"{'figure':<38}{'world':<13}{'lifters':>7}{'seasons':>9}{'must be':>12}{'measured':>15}  outcome")
    for one in found:
        world, n = one.bound.run
        limits = f"{one.bound.low:.0f} to {one.bound.high:.0f}"
        slack = f" (limits wider by {one.slack:.1f}: short run)" if one.slack and one.outcome == "within" else ""
        start = f"{one.bound.name:<38}{world:<13}{n:>7}{one.figure.n:>9}"
        lines.append(f"{start}{limits:>12}{one.figure!s:>15}  {one.outcome}{slack}")
    return "\n".join(lines)


def run_table(run: Run, outcomes: Sequence[Outcome]) -> str:
    """One run: error rates of the report, then one line a contrast."""
    world, n = run
    without_lead = error_rates.false_clear(outcomes, with_lead=False)
    failed = error_rates.not_converged(outcomes)
    lines = [
        f"{world}, {n} lifters, {len(outcomes)} seasons",
        f"  false clear per report {error_rates.false_clear(outcomes)}, without the lead check {without_lead};"
        f" wrong-sign clear {error_rates.wrong_sign_clear(outcomes)}; not converged {failed}",
        f"  {'contrast':<11}{'truth':>7}{'bias':>14}{'mean SE':>9}{'covers':>13}{'clear':>13}{'leaning':>13}"
        f"{'contradicted':>14}{'too little':>13}",
    ]
    checks = [f"  {'check failed':<17}" + "".join(f"{name:>13}" for name in IDS)]
    for check in VETOES:
        failed_by = "".join(f"{error_rates.vetoed(outcomes, name, check)!s:>13}" for name in IDS)
        checks.append(f"  {check:<17}{failed_by}")
    return "\n".join([*lines, *(_contrast_line(name, outcomes) for name in IDS), *checks])


def _contrast_line(name: str, outcomes: Sequence[Outcome]) -> str:
    bias = error_rates.bias(outcomes, name)
    shown = f"{bias.value:+.2f} ({bias.error:.2f})" if bias.n else "-"
    grades = ("clear", "leaning", "contradicted by a check", "too little data")
    clear, leaning, contradicted, too_little = (str(error_rates.graded(outcomes, name, grade)) for grade in grades)
    return (
        f"  {name:<11}{error_rates.mean_truth(outcomes, name):>7.2f}{shown:>14}"
        f"{error_rates.mean_standard_error(outcomes, name).value:>9.2f}{error_rates.coverage(outcomes, name)!s:>13}"
        f"{clear:>13}{leaning:>13}{contradicted:>14}{too_little:>13}"
    )
