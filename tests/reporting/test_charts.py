"""The drawings: text kept as text, ids of their own, marks that tell zero, missing and not logged apart."""

import re
from datetime import date, timedelta

import pytest

from preflare.reporting.charts.bar_choice import BarRow, bar_choice
from preflare.reporting.charts.curve import side_by_side
from preflare.reporting.charts.frame import Moment, Season
from preflare.reporting.charts.pair import Level, pair
from preflare.reporting.charts.season import AthleteSeason, Flare, SquatDay, TrainingWeek, grip_runs, season_chart
from preflare.reporting.charts.svg import drawn
from preflare.reporting.charts.weekly_share import Week, weekly_share
from preflare.reporting.words import load_words

WORDS = load_words("en")
MONDAY = date(2025, 9, 1)
SEASON = Season(
    MONDAY, MONDAY + timedelta(days=69), (Moment(date(2025, 10, 4), "Harbour Cup"),), (Moment(date(2025, 9, 20), "A"),)
)


def _day(n):
    return MONDAY + timedelta(days=n)


def _season(**kw):
    sessions = tuple(
        SquatDay(_day(7 * w), "straight", "medium" if w < 5 else "wide", 75.0 + w, w != 3) for w in range(10) if w != 6
    )
    ratings = tuple((s.day, float(i % 3)) for i, s in enumerate(sessions) if s.is_reported)
    weeks = tuple(TrainingWeek(_day(7 * w), None if w == 6 else 10.0, None if w == 6 else 0.0) for w in range(10))
    logged = ((_day(0), _day(41)), (_day(49), _day(69)))
    return AthleteSeason(ratings, sessions, weeks, logged, (Flare(1, _day(14), _day(20)),), **kw)


def _texts(svg):
    return re.findall(r"<text[^>]*>([^<]*)</text>", svg)


@pytest.mark.parametrize("narrow", [False, True])
def test_text_in_a_chart_stays_text_and_no_size_is_fixed(narrow):
    svg = drawn(lambda: season_chart(_season(), SEASON, WORDS, narrow), "s")
    texts = " ".join(_texts(svg))
    for told in (
        "Arm pain",
        "Harbour Cup",
        "A",
        "10",
        "1",
        "medium",
        "wide",
        "flare-ups",
        *([] if narrow else ["no log"]),
    ):
        assert told in texts
    root = re.match(r"<svg [^>]*>", svg)[0]
    assert "viewBox" in root
    assert "width=" not in root
    assert "<style" not in svg


def test_ids_take_the_prefix_so_that_many_charts_fit_one_page():
    one, two = (drawn(lambda: season_chart(_season(), SEASON, WORDS, False), p) for p in ("one", "two"))
    ids = [set(re.findall(r'\bid="([^"]+)"', svg)) for svg in (one, two)]
    assert not ids[0] & ids[1]
    assert all(i.startswith("one-") for i in ids[0])


def test_the_same_chart_is_drawn_the_same_twice():
    draw = lambda: season_chart(_season(), SEASON, WORDS, False)  # noqa: E731
    assert drawn(draw, "s") == drawn(draw, "s")


def test_a_strip_is_left_out_where_there_is_nothing_to_show():
    data = _season()
    bare = AthleteSeason(
        data.ratings, tuple(SquatDay(s.day, None, None, None, True) for s in data.sessions), (), data.logged, ()
    )
    texts = " ".join(_texts(drawn(lambda: season_chart(bare, SEASON, WORDS, False), "s")))
    assert "Arm pain" in texts
    for absent in ("Heaviest set", "Curl sets", "Squat sets", "Grip", "flare-ups"):
        assert absent not in texts


def test_grip_rails_break_where_the_log_breaks_and_move_where_the_grip_changes():
    runs = grip_runs(_season())
    assert [(grip, (a - MONDAY).days, (b - MONDAY).days) for grip, a, b in runs] == [
        ("medium", 0, 28), ("wide", 28, 35), ("wide", 49, 63)]  # fmt: skip


def test_a_week_with_few_reports_is_dots_and_never_a_share():
    few = Week(MONDAY, 5, 2, 0.4, 10.0, 80.0)
    many = Week(MONDAY + timedelta(7), 12, 0, 0.0, 0.0, 24.2)
    picture = drawn(lambda: weekly_share([few, many], SEASON, 14, WORDS, False), "w")
    assert picture.count("<use") >= 6  # five dots and the ring of the week without pain
    assert "fewer than 8: a dot a lifter" in " ".join(_texts(picture))


@pytest.mark.parametrize(
    ("low", "estimate", "high"), [(0.0, 0.2, 3.0), (40.0, 62.0, 81.0), (91.0, 97.0, 99.6), (0.0, 50.0, 100.0)]
)
def test_the_ruler_prints_its_estimate_and_interval_wherever_they_lie(low, estimate, high):
    level = Level("usual", estimate, low, high)
    texts = _texts(drawn(lambda: pair(level, level, "leaning", WORDS, True), "p"))
    assert texts.count("less than 1" if estimate < 0.5 else f"{round(estimate)}") >= 2


def test_a_bar_with_few_sessions_is_not_estimated():
    rows = [
        BarRow("straight", 900, (1.0, 1.2, 1.4), None, None),
        BarRow("other", 12, (1, 2, 3), (-5, 1, 9), (-5, 1, 9)),
    ]
    texts = " ".join(_texts(drawn(lambda: bar_choice(rows, WORDS, False), "b")))
    assert "too few" in texts
    assert "raw" not in texts


def test_equal_whole_values_stand_side_by_side_in_a_rug():
    assert side_by_side([3.0, 3.0, 4.0]) == pytest.approx([2.825, 3.175, 4.0])
    assert side_by_side([3.2, 3.2]) == [3.2, 3.2]


def test_letters_that_the_chart_font_lacks_stay_text():
    season = Season(MONDAY, _day(69), (Moment(_day(30), "杯 كأس 🏋"),))
    assert "杯" in "".join(_texts(drawn(lambda: season_chart(_season(), season, WORDS, False), "s")))


def test_no_printed_number_is_shortened_like_a_coordinate():
    # 1.860 is 1860 where a full stop parts the thousands.
    rows = [BarRow("straight", 1860, (1.0, 1.2, 1.4), None, None)]
    svg = drawn(lambda: bar_choice(rows, load_words("de"), False), "b")
    assert "1.860" in _texts(svg)
    numbers = re.findall(r"\d\.\d+", re.sub(r">[^<]+<", "><", svg))
    assert len(numbers) > 50
    assert max(map(len, numbers)) == 4
