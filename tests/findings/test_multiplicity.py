"""Benjamini and Hochberg's own example, and what is no member of the family."""

import numpy as np
import pytest
from scipy.stats import false_discovery_control

from preflare.findings.multiplicity import benjamini_hochberg

# Benjamini Y, Hochberg Y. J R Stat Soc B 1995;57:289-300: the 15 p-values of their example, as printed in the
# documentation of scipy.stats.false_discovery_control. Adjusted values worked out from the definition.
PUBLISHED = [0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.3240, 0.4262, 0.5719, 0.6528,
             0.7590, 1.000]  # fmt: skip
ADJUSTED = [0.0015, 0.003, 0.0095, 0.035625, 0.0603, 0.063857, 0.063857, 0.0645, 0.0765, 0.486, 0.581182, 0.714875,
            0.753231, 0.813214, 1.0]  # fmt: skip


def test_the_published_p_values_are_adjusted_as_published() -> None:
    assert benjamini_hochberg(PUBLISHED) == pytest.approx(ADJUSTED, abs=5e-7)


def test_four_of_the_published_hypotheses_are_rejected() -> None:
    assert sum(q <= 0.05 for q in benjamini_hochberg(PUBLISHED)) == 4


def test_order_of_the_p_values_does_not_matter() -> None:
    shuffled = np.random.default_rng(1).permutation(len(PUBLISHED))
    adjusted = benjamini_hochberg([PUBLISHED[i] for i in shuffled])
    assert adjusted == pytest.approx([ADJUSTED[i] for i in shuffled], abs=5e-7)


def test_agrees_with_scipy_on_random_families() -> None:
    rng = np.random.default_rng(2)
    for size in (1, 2, 7, 30):
        p = rng.uniform(size=size) ** 2
        assert benjamini_hochberg(p.tolist()) == pytest.approx(false_discovery_control(p).tolist(), rel=1e-12)


def test_a_contrast_without_a_p_value_is_no_member_of_the_family() -> None:
    adjusted = benjamini_hochberg([0.01, float("nan"), 0.04])
    assert adjusted[0] == pytest.approx(0.02)
    assert np.isnan(adjusted[1])
    assert adjusted[2] == pytest.approx(0.04)


def test_an_empty_family_stays_empty() -> None:
    assert np.isnan(benjamini_hochberg([float("nan")])).all()
    assert benjamini_hochberg([]) == []
