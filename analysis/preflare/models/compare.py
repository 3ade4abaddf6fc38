"""Likelihood-ratio tests between nested fits of the same rows.

    2 (l_larger - l_smaller) ~ chi-squared with as many df as the larger model has parameters more,

each l at its own maximum, by the same approximation and with the same constants. A variance that is 0 in the smaller
model stands at the edge of its range there: see `likelihood_ratio`. REML compares models of the same columns only.
"""

from dataclasses import dataclass

from scipy.stats import chi2

from preflare.models.records import FitError, MixedFit


@dataclass(frozen=True)
class LikelihoodRatio:
    """statistic: twice the gain in log-likelihood. df: parameters more. p: two-sided."""

    statistic: float
    df: int
    p: float


def likelihood_ratio(larger: MixedFit, smaller: MixedFit) -> LikelihoodRatio:
    """Whether the larger model's further coefficients or variances are called for.

    One further variance of an independent random effect stands at the edge of its range when it is 0: p is then that of
    an even mixture of chi-squared with df - 1 and df (Self and Liang 1987). For more variances p is conservative.
    Raises FitError where the two log-likelihoods cannot be compared.
    """
    _refuse_unlike(larger, smaller)
    variances = len(larger.random_sd) - len(smaller.random_sd)
    df = _count(larger) - _count(smaller)
    if df < 1:
        raise FitError("wrong shape", "the first model has no parameter more than the second")
    statistic = max(0.0, 2.0 * (larger.log_likelihood - smaller.log_likelihood))
    p = float(chi2.sf(statistic, df))
    if variances == 1 and larger.random_structure == "independent":
        below = float(chi2.sf(statistic, df - 1)) if df > 1 else float(statistic == 0.0)
        p = 0.5 * (p + below)
    return LikelihoodRatio(statistic, df, p)


def _count(fit: MixedFit) -> int:
    """Free parameters: thresholds, coefficients, variances and covariances."""
    q = len(fit.random_sd)
    return (
        len(fit.thresholds) + len(fit.coefficients) + (q * (q + 1) // 2 if fit.random_structure == "correlated" else q)
    )


def _refuse_unlike(larger: MixedFit, smaller: MixedFit) -> None:
    if larger.family != smaller.family or larger.n_rows != smaller.n_rows:
        raise FitError("wrong shape", "models of different families or rows have no common log-likelihood")
    if len(smaller.random_sd) and larger.quadrature != smaller.quadrature:
        raise FitError("wrong shape", "the two log-likelihoods are approximated with different numbers of nodes")
    restricted = "REML" in larger.log_likelihood_note or "REML" in smaller.log_likelihood_note
    if restricted and larger.names != smaller.names:
        raise FitError("wrong shape", "REML log-likelihoods of different columns cannot be compared; fit both by ML")
