"""Contrast of the palette by the formula of WCAG 2.2: relative luminance and contrast ratio, criteria 1.4.3, 1.4.11."""

import re

import pytest

from preflare.reporting.charts import palette
from preflare.resources import resource


def luminance(colour: str) -> float:
    """Relative luminance, WCAG 2.2: sRGB with the threshold 0.04045."""
    channels = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """Contrast ratio, WCAG 2.2."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_formula_gives_the_known_ratios():
    # WCAG 2.2: black on white is 21 : 1, a colour on itself 1 : 1; #767676 is the lightest grey that passes 4.5.
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)
    assert contrast("#777777", "#ffffff") < 4.5


@pytest.mark.parametrize("ground", [palette.GROUND, "#ffffff"])
def test_words_have_four_and_a_half_to_one(ground):
    for colour in (palette.INK, palette.IRON, palette.BRUISE, palette.BRASS):
        assert contrast(colour, ground) >= 4.5


@pytest.mark.parametrize("ground", [palette.GROUND, "#ffffff"])
def test_marks_that_carry_meaning_have_three_to_one(ground):
    for colour in (palette.BRUISE, palette.BRUISE_EDGE, palette.STEEL, palette.BRASS, palette.BRASS_SOLID, palette.INK):
        assert contrast(colour, ground) >= 3.0


def test_an_estimate_and_the_edge_of_its_interval_stand_out_from_its_fill():
    assert contrast(palette.BRUISE, palette.BRUISE_FILL) >= 3.0
    assert contrast(palette.BRUISE_EDGE, palette.BRUISE_FILL) >= 3.0
    assert contrast(palette.BRASS, palette.BRASS_FILL) >= 3.0


def test_the_stylesheet_uses_no_colour_outside_the_palette():
    css = (resource("reports") / "page.css").read_text(encoding="utf-8")
    known = {v.lower() for v in vars(palette).values() if isinstance(v, str) and v.startswith("#")} | {"#fff"}
    assert set(re.findall(r"#[0-9a-f]{3,6}\b", css.lower())) <= known
