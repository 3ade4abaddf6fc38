"""Distributed lags, the whole method: published analyses of open data, from the doses to the estimate and its interval.

The data come with the R package dlnm (Gasparrini A. J Stat Softw 2011;43(8):1-20) and, as text, with the Python package
dlnmpy, of which nothing else is used. Expected values: the vignettes dlnmExtended and dlnmTS of dlnm 2.4.10.
"""

from importlib.resources import files

import numpy as np
import pandas as pd
import pytest
import statsmodels.api as sm
from numpy.typing import NDArray
from scipy.interpolate import BSpline

from preflare.models.cross_basis import cross_basis, lagged
from preflare.models.splines import restricted_cubic_spline

Floats = NDArray[np.float64]
Z = 1.959963984540054  # the vignettes' intervals are normal


def published(name: str) -> pd.DataFrame:
    with (files("dlnmpy.data") / f"{name}.csv").open("rb") as file:
        return pd.read_csv(file)


def natural_spline(x: Floats, knots: Floats) -> Floats:
    """A natural cubic spline without a constant: cubic B-splines whose second derivative is 0 at both ends, as R's ns.

    The same functions as truncated powers at these knots, whose 98 columns lose too many digits here.
    """
    padded = np.r_[[knots[0]] * 3, knots, [knots[-1]] * 3]
    bent = BSpline(padded, np.eye(len(padded) - 4), 3).derivative(2)(knots[[0, -1]])
    free = np.linalg.svd(bent)[2][2:].T
    basis = BSpline.design_matrix(x, padded, 3).toarray() @ free
    # The constant is one of these functions; the others, less their means, hold everything else.
    return np.linalg.svd(basis - basis.mean(axis=0), full_matrices=False)[0][:, :-1]


def interval(weights: Floats, coefficients: Floats, covariance: Floats) -> tuple[float, float, float]:
    """Estimate and 95 % limits of a weighted sum of coefficients."""
    value, half = float(weights @ coefficients), Z * float(np.sqrt(weights @ covariance @ weights))
    return value, value - half, value + half


def test_the_drug_trial_of_the_vignette() -> None:
    # 200 people, a dose for each of four weeks, the outcome on day 28. Dose linear, lag a natural spline with knots at
    # 9 and 18 days over lags 0 to 27, a linear model with sex.
    drug = published("drug")
    weekly = drug[["day22.28", "day15.21", "day8.14", "day1.7"]].to_numpy(float)
    doses = np.repeat(weekly, 7, axis=1)
    lags = np.arange(28.0)
    basis = np.column_stack([np.ones(28), restricted_cubic_spline(lags, (0.0, 9.0, 18.0, 27.0))])
    crossed = cross_basis(doses, basis)
    X = np.column_stack([np.ones(len(drug)), drug["sex"].eq("M"), crossed])
    fit = sm.OLS(drug["out"].to_numpy(float), X).fit()
    b, V = fit.params[2:], fit.cov_params()[2:, 2:]
    assert interval(50 * basis.sum(axis=0), b, V) == pytest.approx((30.29584, 20.12871, 40.46298), abs=6e-6)
    assert interval(20 * basis[3], b, V)[0] == pytest.approx(1.118139, abs=6e-7)


def test_chicago_pm10_of_the_vignette() -> None:
    # Deaths by day, 1987 to 2000: PM10 linear over lags 0 to 15 by a polynomial of degree 4; temperature a natural
    # spline of 5 df, lags 0 and 1 to 3; time a natural spline of 7 df a year; day of the week; quasi-Poisson.
    chicago = published("chicagoNMMAPS")
    time, temp = chicago["time"].to_numpy(float), chicago["temp"].to_numpy(float)
    lags = np.arange(16.0)
    polynomial = np.column_stack([(lags / 15) ** power for power in range(5)])
    pm10 = cross_basis(lagged(chicago["pm10"].to_numpy(float), 0, 15), polynomial)
    heat = natural_spline(temp, np.quantile(temp, np.linspace(0, 1, 6)))
    strata = np.column_stack([np.ones(4), np.arange(4) >= 1])
    warmth = np.hstack([cross_basis(lagged(column, 0, 3), strata) for column in heat.T])
    trend = natural_spline(time, np.quantile(time, np.linspace(0, 1, 99)))
    weekday = pd.get_dummies(chicago["dow"], drop_first=True).to_numpy(float)
    X = np.column_stack([np.ones(len(time)), pm10, warmth, trend, weekday])
    known = ~np.isnan(X).any(axis=1)
    # One orthonormal basis of the adjusting columns: the same model. Two of them say nothing new where PM10 is known; a
    # third is nearly empty (7e-12), and R keeps it.
    left, singular, _ = np.linalg.svd(X[known][:, [0, *range(6, X.shape[1])]], full_matrices=False)
    rest = left[:, singular > 1e-13 * singular[0]]
    assert known.sum() - rest.shape[1] - 5 == 3387  # residual degrees of freedom in R
    deaths = chicago["death"].to_numpy(float)[known]
    fit = sm.GLM(deaths, np.column_stack([pm10[known], rest]), family=sm.families.Poisson()).fit(scale="X2")
    found = interval(10 * polynomial.sum(axis=0), fit.params[:5], fit.cov_params()[:5, :5])
    assert np.exp(found) == pytest.approx((0.9997563, 0.9916871, 1.0078911), abs=6e-8)
