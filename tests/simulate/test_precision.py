"""Planning a season: the square-root rule by hand, and seasons of two sizes that follow it."""

import pytest

from preflare.simulate.outcomes import Answer, Outcome
from preflare.simulate.precision import lifters_needed, main, summarised


def test_square_root_rule_by_hand():
    # 5 per 100 at 80 % power, two-sided 5 %: wanted standard error 5 / 2.8 = 1.786 (analysis plan, section 10).
    # 24 lifters with an error of 3.572, twice the wanted one, need four times as many.
    assert lifters_needed(24, 2 * 5 / 2.8) == 96
    assert lifters_needed(24, 5 / 2.8) == 24
    assert lifters_needed(10, 5 / 2.8 * 1.1) == 13  # 12.1, rounded up


def test_summary_counts_only_seasons_with_an_interval():
    told = Answer("narrow", 4.0, 5.0, 1.0, 9.0, 2.0, 0.01, "clear", "clear", 10)
    silent = Answer("narrow", 4.0, None, None, None, None, None, "too little data", "too little data", 2)
    outcomes = [Outcome("plant", 24, k, True, (answer,)) for k, answer in enumerate((told, told, silent))]
    found = summarised(outcomes, "narrow", 24, 40)
    assert (found.standard_error.value, found.standard_error.n) == (2.0, 2)
    assert found.half_width.value == 4.0
    assert found.too_little.value == pytest.approx(100 / 3)


def test_command_prints_a_line_for_each_size(capsys):
    main(["--contrast", "intensity", "--lifters", "6", "12", "--weeks", "20", "--seasons", "2"])
    lines = capsys.readouterr().out.splitlines()
    small, large = (line.split() for line in lines[2:4])
    assert (small[:3], large[:3]) == (["6", "20", "2"], ["12", "20", "2"])
    assert float(large[3]) < float(small[3])
    assert sum("would tell 5 more or fewer per 100 from none" in line for line in lines) == 2
