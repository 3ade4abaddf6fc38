"""Every check of a fit, with its outcome in words, on rows built to fail it and on rows built to pass."""

import re
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

import preflare.models
from models.small import small
from preflare.models.checks import HELP, REFUSALS, fit_checks
from preflare.models.cumulative import fit_cumulative
from preflare.models.linear import fit_linear
from preflare.models.logistic import fit_logistic
from preflare.models.records import FitError

DATA = small(n_athletes=14, rows=40, seed=5)
ONES = DATA.Z[:, :1]


def check(fit, name, y=None):
    return next(one for one in fit_checks(fit, y) if one.name == name)


@pytest.mark.parametrize(
    ("fit", "y"),
    [
        (lambda: fit_cumulative(DATA.y, DATA.X, ONES, DATA.group), DATA.y),
        (lambda: fit_logistic(DATA.flare, DATA.with_intercept, ONES, DATA.group), DATA.flare),
        (lambda: fit_linear(DATA.rating, DATA.with_intercept, ONES, DATA.group), None),
    ],
)
def test_ordinary_rows_pass_every_check(fit, y):
    checks = fit_checks(fit(), y)

    assert {one.outcome for one in checks if one.name != "categories"} == {"passed"}
    assert check(fit(), "categories", y).outcome == ("not checked" if y is None else "passed")
    assert [one.name for one in checks] == [
        "separation", "gradient", "Newton decrement", "mode searches", "condition", "singularity", "groups",
        "rows an athlete", "categories",
    ]  # fmt: skip


def test_every_check_has_its_help_and_every_help_its_check():
    fit = fit_cumulative(DATA.y, DATA.X, ONES, DATA.group)

    assert {one.name for one in fit_checks(fit)} == set(HELP)
    assert all(one.help.endswith(".") for one in fit_checks(fit))


def test_every_reason_of_a_refusal_has_its_help():
    source = "".join(path.read_text() for path in Path(preflare.models.__file__).parent.glob("*.py"))

    assert set(re.findall(r'FitError\(\s*"([a-z ]+)"', source)) == set(REFUSALS)


def test_a_bar_that_always_hurts():
    bar = (np.arange(len(DATA.flare)) % 9 == 0).astype(float)
    X = np.column_stack([np.ones(len(bar)), DATA.X[:, 0], bar])

    fit = fit_logistic(np.where(bar == 1, 1, DATA.flare), X, ONES, DATA.group, names=["one", "intensity", "cambered"])

    answer = check(fit, "separation")
    assert answer.outcome == "failed"
    assert answer.words == "no finite estimate for cambered: it splits the ratings perfectly"


def test_no_difference_between_athletes():
    one = small(n_athletes=1, rows=40, seed=2)
    y, X, group = np.tile(one.y, 6), np.tile(one.X, (6, 1)), np.repeat(np.arange(6), len(one.y))

    fit = fit_cumulative(y, X, np.ones((len(y), 1)), group)

    assert check(fit, "singularity").outcome == "warning"
    assert check(fit, "singularity").value == 0.0
    assert (check(fit, "groups").outcome, check(fit, "groups").words) == ("warning", "6 athletes")


def test_a_correlation_of_one():
    """Slopes are 0.8 times the intercepts, without noise between: the best correlation is 1 to the fit's precision."""
    group = np.repeat(np.arange(12), 20)
    x = np.tile(np.linspace(-1, 1, 20), 12)
    level = np.linspace(-2, 2, 12)[group]
    y = 1 + level + 0.8 * level * x + 0.1 * np.tile(np.array([1.0, -1.0] * 10), 12)
    columns = np.column_stack([np.ones(240), x])

    fit = fit_linear(y, columns, columns, group, random="correlated")

    assert fit.random_covariance[0, 1] / np.prod(fit.random_sd) > 0.9999
    assert check(fit, "singularity").outcome == "warning"
    assert "a correlation is -1 or 1" in check(fit, "singularity").words


def test_two_thousand_athletes_with_one_row():
    rng = np.random.default_rng(10)
    x = rng.normal(size=2000)
    y = np.digitize(0.5 * x + rng.logistic(size=2000), [0.0, 1.5])

    fit = fit_cumulative(y, x[:, None], np.ones((2000, 1)), np.arange(2000))

    answer = check(fit, "rows an athlete")
    assert (answer.outcome, answer.words) == ("warning", "2000 rows of 2000 athletes")
    assert check(fit, "Newton decrement").outcome in {"passed", "failed"}


def test_a_category_of_four_rows():
    y = DATA.y.copy()
    y[y == 2] = 1
    y[:4] = 2

    fit = fit_cumulative(y, DATA.X, ONES, DATA.group)

    answer = check(fit, "categories", y)
    assert (answer.outcome, answer.words) == ("warning", "category 2 is the rarest: 4 rows")


def test_columns_that_almost_repeat_each_other():
    rng = np.random.default_rng(3)
    twin = DATA.X[:, 0] + 3e-3 * rng.normal(size=len(DATA.y))

    fit = fit_cumulative(DATA.y, np.column_stack([DATA.X, twin]), ONES, DATA.group)

    assert check(fit, "condition").outcome == "warning"
    assert check(fit, "condition").value > 1e5


@pytest.mark.parametrize(
    ("change", "name"),
    [
        ({"gradient": 0.5}, "gradient"),
        ({"newton_decrement": 0.1}, "Newton decrement"),
        ({"newton_decrement": float("nan")}, "Newton decrement"),
        ({"message": "the search for an athlete's own effects did not end"}, "mode searches"),
        ({"condition": float("inf")}, "condition"),
    ],
)
def test_a_poor_end_fails_its_own_check_alone(change, name):
    """Records changed by hand: the optimiser gives no such end on ordinary rows."""
    fit = fit_cumulative(DATA.y, DATA.X, ONES, DATA.group)
    poor = replace(fit, convergence=replace(fit.convergence, **change))

    assert {one.name for one in fit_checks(poor) if one.outcome == "failed"} == {name}


def test_without_random_effects_their_checks_are_not_made():
    fit = fit_cumulative(DATA.y, DATA.X, np.zeros((len(DATA.y), 0)), np.zeros(len(DATA.y), int))

    unmade = {one.name for one in fit_checks(fit, DATA.y) if one.outcome == "not checked"}
    assert unmade == {"singularity", "groups", "rows an athlete"}


@pytest.mark.parametrize(
    ("fit", "reason"),
    [
        (lambda: fit_cumulative(DATA.y, DATA.X, ONES, np.zeros(len(DATA.y), int)), "too few groups"),
        (lambda: fit_cumulative(np.ones(len(DATA.y)), DATA.X, ONES, DATA.group), "one category"),
        (lambda: fit_cumulative(np.full(len(DATA.y), np.nan), DATA.X, ONES, DATA.group), "missing values"),
    ],
)
def test_one_athlete_one_category_and_all_missing_are_refused_with_help(fit, reason):
    with pytest.raises(FitError) as caught:
        fit()

    assert caught.value.reason == reason
    assert REFUSALS[reason]
