"""What findings, reports and `preflare check` are given: context, views, problems by place."""

import pytest

from hand_logs import HandLogs, joined
from preflare.exposures import finding_context, log_problems, report_views
from preflare.reading.rows import FileReading
from preflare.settings import Settings, parse_settings
from preflare.store import Store


@pytest.fixture
def opened(tmp_path):
    """opened(logs, toml) imports into a new store and gives it, open."""
    stores = []

    def importing(logs, toml=""):
        store = Store.open(tmp_path / f"season{len(stores)}.duckdb")
        stores.append(store)
        store.import_logs(logs, parse_settings(toml) if toml else Settings(), toml)
        return store

    yield importing
    for store in stores:
        store.close()


def season():
    logs = HandLogs()
    for day in range(0, 42, 2):
        logs.set(day, grip_width="medium", bar_position="low", times=3, rpe=8).pain(day, day % 5)
    return logs


def test_clean_logs_have_no_problem(opened):
    lines, has_problems = log_problems(opened(season().done()))
    assert not has_problems
    assert lines[-1] == "No problem found in these logs."
    assert lines[0] == "1 lifter, 21 squat sessions, 21 of them with an arm rating afterwards."


def test_each_question_says_what_there_is_and_what_is_needed(opened):
    lines, _ = log_problems(opened(season().done()))
    assert "4 of these ratings are 4 or more (30 needed)." in lines
    assert "Squat intensity: too little. 1 lifter (6 needed), 20 rated sessions (30 needed)." in lines
    assert (
        "Narrow grip against medium: too little. 0 lifters with 3 sessions or more of each (6 needed), "
        "0 rated sessions (30 needed)."
    ) in lines


def test_logs_without_squats_say_so_and_ask_nothing(opened):
    lines, _ = log_problems(opened(HandLogs().set(0, exercise="bench press").done()))
    assert lines[0] == "0 lifters, 0 squat sessions, 0 of them with an arm rating afterwards."
    assert "Weekly squat sets: too little. 0 lifters (6 needed), 0 rated sessions (30 needed)." in lines


def test_unwritten_exposures_are_named(opened):
    lines, _ = log_problems(opened(HandLogs().set(0, bar=None).pain(0, 1).set(8, bar=None).done()))
    assert "Only 0 of 100 squat sessions have a known bar." in lines


def test_problem_sentences_name_place_value_and_remedy(opened):
    logs = season().rejected("12O").rejected("4O", is_whole_row=False).choice("yoke bar", None)
    lines, has_problems = log_problems(opened(logs.done()))
    assert has_problems
    assert 'log.csv, row 44: "12O": The load is not a number. Correct the cell and import again.' in lines
    assert 'log.csv, row 44, column F: "4O": The load is not a number. Correct the cell and import again.' in lines
    assert (
        'log.csv: bar "yoke bar" (1 row) is not known; the nearest known word is "safety". '
        "Teach it under [words] in season.toml."
    ) in lines


def test_refused_file_is_named_with_its_reason(opened):
    logs = season().done()
    logs.files.append(FileReading("photo.png", "9" * 64, "png", None, "It is a picture.", ()))
    lines, _ = log_problems(opened(logs))
    assert "photo.png: nothing was read. It is a picture." in lines


def test_sets_that_stand_in_two_files_are_named(opened):
    lines, _ = log_problems(opened(joined(season().done(), HandLogs("copy.csv", "2" * 64).set(0, times=3).done())))
    assert any(line.startswith("Ada, 2026-01-05: the same 3 sets stand in copy.csv and in log.csv") for line in lines)


def test_unknown_names_in_season_toml_are_named(opened):
    toml = '[[competition]]\ndate = 2026-03-01\nathletes = ["Adda"]\n'
    lines, _ = log_problems(opened(season().done(), toml))
    assert any(
        line.startswith('season.toml: "Adda" (competition of 2026-03-01) is nobody in the logs') for line in lines
    )


def test_reports_that_cannot_count_are_told_with_the_remedy(opened):
    logs = season().pain(1, 3, moment="unknown").pain(3, 2, site="unknown").pain(5, None, severity_word="mild")
    lines, _ = log_problems(opened(logs.done()))
    assert any(line.startswith("1 rating does not say whether") for line in lines)
    assert any(line.startswith("1 pain report names no site") for line in lines)
    assert any(line.startswith("1 pain report is a word without a number") for line in lines)


def test_long_gaps_are_told_as_unlogged(opened):
    lines, _ = log_problems(opened(HandLogs().set(0).set(12).done()))
    assert (
        "Ada: nothing logged from 2026-01-06 to 2026-01-16 (11 days); these days count as unlogged, not as rest."
        in lines
    )


def test_context_accounts_for_every_file(opened):
    context = finding_context(opened(season().rejected().done()))
    logs = context["logs"]
    assert logs["rows_read"] == logs["rows_stored"] + logs["rows_rejected"] + logs["rows_not_data"]
    assert [file["file"] for file in logs["files"]] == ["log.csv"]
    assert logs["response"] == {"sessions": 21, "reported": 21}
    assert context["definitions"]["changed"] == []
    assert list(context["views"]["flare_up"].columns[:5]) == [
        "athlete_id",
        "athlete",
        "number",
        "onset_date",
        "end_date",
    ]


def test_changes_and_competitions_carry_names_and_null_for_everybody(opened):
    toml = """
        [[change]]
        date = 2026-02-02
        what = "safety bar"
        athletes = ["ada"]
        [[change]]
        date = 2026-02-03
        what = "fewer sets"
        [[competition]]
        date = 2026-03-01
        name = "Spring meet"
        """
    store = opened(season().done(), toml)
    views = report_views(store)
    assert views["change"].athlete.fillna("all").tolist() == ["Ada", "all"]
    assert views["competition"].athlete.isna().all()
    assert finding_context(store)["changes"] == [
        {"date": "2026-02-02", "what": "safety bar", "why": None, "athletes": ["Ada"]},
        {"date": "2026-02-03", "what": "fewer sets", "why": None, "athletes": None},
    ]


@pytest.mark.parametrize(
    "logs",
    [
        HandLogs().set(0, exercise="bench press").pain(0, 2),
        HandLogs().pain(0, 2),
        HandLogs().set(0).set(3),
        HandLogs().screen(0, 80),
        HandLogs(),
    ],
    ids=["no squats", "pain alone", "no pain", "screens alone", "nothing"],
)
def test_logs_without_something_give_empty_views_with_their_columns(opened, logs):
    store = opened(logs.done())
    views = report_views(store)
    assert store.verify() == []
    assert all(len(view.columns) > 1 for view in views.values())
    assert str(views["model_frame"].rating.dtype) == "float64"
    assert finding_context(store)["logs"]["response"]["reported"] == 0
    log_problems(store)
