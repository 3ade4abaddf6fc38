"""Importing: once or twice, corrected, moved, killed; nothing lost, nothing half done."""

import json
import sys
from dataclasses import replace
from datetime import date

import pytest

from hand_logs import HandLogs, joined, on
from preflare.errors import PreflareError
from preflare.reading.rows import SetRow
from preflare.settings import Settings, parse_settings
from preflare.store import Store
from store.kill_imports import killed_after
from store_contents import contents


def season(file="log.csv", athlete="Ada"):
    logs = HandLogs(file)
    for day in range(0, 28, 2):
        logs.set(day, 100 + day, 5, times=2, rpe=8, athlete=athlete).pain(day, day % 6, athlete=athlete)
    logs.rejected().rejected(is_whole_row=False)
    logs.screen(3, 80, athlete=athlete).session(4, duration_min=75, athlete=athlete)
    return logs.choice("yoke bar", "safety").done()


def stored(path, *logs, settings=None, text=""):
    with Store.open(path) as store:
        return [store.import_logs(one, settings or Settings(), text) for one in logs][-1]


@pytest.fixture
def path(tmp_path):
    return tmp_path / "season.duckdb"


def test_every_row_is_accounted_for(path):
    summary = stored(path, season())
    assert summary.rows_read == summary.rows_stored + summary.rows_rejected + summary.rows_not_data
    assert (summary.sets, summary.reports, summary.screens, summary.athletes) == (28, 14, 1, 1)
    assert (summary.files_new, summary.rows_rejected, summary.cells_set_aside) == (1, 1, 1)
    with Store.open(path, read_only=True) as store:
        assert store.rows("select rows_read, is_balanced, rejected_listed, cells_set_aside from sheet_read") == [
            (summary.rows_read, True, 1, 1)
        ]


def test_every_set_keeps_its_place_and_its_own_words(path):
    logs = season()
    stored(path, logs)
    with Store.open(path, read_only=True) as store:
        places = store.rows(
            "select path, sheet, source_row, set_number, load_kg, exercise_written from lift_set"
            " inner join source_file on lift_set.file_id = source_file.file_id order by source_row, set_number"
        )
    expected = [
        (row.place.file, row.place.sheet, row.place.row, row.set_number, row.load_kg, row.exercise_written)
        for row in logs.sets
    ]
    assert places == expected


def test_same_import_twice_changes_nothing_but_the_run(path):
    logs = season()
    stored(path, logs)
    before = contents(path, without=("import_run",))
    summary = stored(path, logs)
    assert contents(path, without=("import_run",)) == before
    assert (summary.files_new, summary.files_replaced, summary.files_unchanged) == (0, 0, 1)
    assert summary.changes == ()
    with Store.open(path, read_only=True) as store:
        assert store.rows("select run_id, files_new, files_unchanged from import_run order by 1") == [
            (1, 1, 0),
            (2, 0, 1),
        ]


def test_corrected_file_replaces_its_older_self_and_lists_what_changed(path):
    logs = season()
    stored(path, logs)
    corrected = season()
    corrected.sets[0] = replace(corrected.sets[0], load_kg=105.0)
    corrected.sets = [row for row in corrected.sets if row.date != on(26)]
    corrected.pain[0] = replace(corrected.pain[0], rating=2.0)
    corrected.files[0] = replace(corrected.files[0], sha256="1" * 64)
    summary = stored(path, corrected)
    assert summary.files_replaced == 1
    assert [str(change) for change in summary.changes] == [
        "log.csv, row 2: Ada, 2026-01-05, back squat, set 1: back squat, 105 kg x 5, RPE 8, straight bar, "
        "was back squat, 100 kg x 5, RPE 8, straight bar",
        "log.csv, row 3: Ada, 2026-01-05, pain, elbow, right, after: 2, was 0",
        "log.csv, row 28: Ada, 2026-01-31, back squat, set 1: gone, was back squat, 126 kg x 5, RPE 8, straight bar",
        "log.csv, row 28: Ada, 2026-01-31, back squat, set 2: gone, was back squat, 126 kg x 5, RPE 8, straight bar",
    ]
    with Store.open(path, read_only=True) as store:
        assert store.rows("select count(*) from lift_set") == [(26,)]
        assert store.rows("select run_id, count(*) from import_change group by 1") == [(2, 4)]


def test_corrected_store_equals_a_store_that_never_knew_the_error(path, tmp_path):
    wrong, right = season(), season()
    wrong.sets = [replace(row, load_kg=10 * row.load_kg) for row in wrong.sets]
    wrong.files[0] = replace(wrong.files[0], sha256="1" * 64)
    stored(path, wrong, right)
    stored(tmp_path / "other.duckdb", right)
    told = ("import_run", "import_change")
    assert contents(path, without=told) == contents(tmp_path / "other.duckdb", without=told)


def test_row_that_only_moved_down_is_no_change(path):
    logs = season()
    stored(path, logs)
    lower = [replace(row, place=replace(row.place, row=row.place.row + 1)) for row in logs.sets]
    logs.sets = lower
    assert stored(path, logs).changes == ()


def test_file_under_a_new_name_replaces_its_old_self(path):
    stored(path, season("march.csv"))
    summary = stored(path, season("2026/march.csv"))
    assert (summary.files_moved, summary.sets) == (1, 28)
    with Store.open(path, read_only=True) as store:
        assert store.rows("select path from source_file") == [("2026/march.csv",)]
        assert store.rows("select count(*) from lift_set") == [(28,)]


def test_other_files_stay_as_they_are(path):
    stored(path, season("a.csv"))
    other = season("b.csv", athlete="Bea")
    other.files[0] = replace(other.files[0], sha256="2" * 64)
    stored(path, other)
    with Store.open(path, read_only=True) as store:
        assert store.rows("select display_name from athlete order by 1") == [("Ada",), ("Bea",)]
        assert store.rows("select count(*) from lift_set") == [(56,)]


def test_ids_of_people_and_sessions_stay_when_others_come(path):
    stored(path, season("b.csv", athlete="Bea"))
    with Store.open(path, read_only=True) as store:
        before = store.rows("select session_id, athlete_id, date from session order by 1")
    ada = season("a.csv", athlete="Ada")
    ada.files[0] = replace(ada.files[0], sha256="2" * 64)
    stored(path, ada)
    with Store.open(path, read_only=True) as store:
        after = store.rows("select session_id, athlete_id, date from session order by 1")
        assert after[: len(before)] == before
        assert store.rows("select athlete_id, display_name from athlete order by 1") == [(1, "Bea"), (2, "Ada")]


def test_person_whom_no_row_names_any_more_goes(path):
    stored(path, season(athlete="Adda"), season(athlete="Ada"))
    with Store.open(path, read_only=True) as store:
        assert store.rows("select display_name, aliases from athlete") == [("Ada", ["ADA", "Ada"])]
        assert store.rows("select count(distinct athlete_id) from session") == [(1,)]


def test_same_sets_in_two_files_are_found_out(path):
    two = season("copy.csv")
    two.files[0] = replace(two.files[0], sha256="3" * 64)
    stored(path, joined(season("log.csv"), two))
    with Store.open(path, read_only=True) as store:
        assert store.rows("select file, other_file, count(*), sum(sets) from session_in_two_files group by all") == [
            ("copy.csv", "log.csv", 14, 28)
        ]


def test_session_that_an_earlier_import_brought_is_not_counted_twice(path):
    stored(path, season("log.csv"))
    two = season("copy.csv")
    two.files[0] = replace(two.files[0], sha256="3" * 64)
    extra = HandLogs("copy.csv").set(40, 150, 1).logs.sets[0]
    two.sets.append(replace(extra, place=replace(extra.place, row=two.files[0].sheets[0].rows_read)))
    summary = stored(path, two)
    assert summary.rows_read == summary.rows_stored + summary.rows_rejected + summary.rows_not_data
    assert summary.sets == 1
    with Store.open(path, read_only=True) as store:
        assert store.rows("select count(*) from lift_set") == [(29,)]
        assert store.rows("select bool_and(is_balanced) from sheet_read") == [(True,)]
        assert store.rows("select count(*) from pain_report") == [(28,)]  # the pain rows are rows of their own
        ((reason, value),) = store.rows(
            "select reason, value from set_aside where file = 'copy.csv' and row = 2 and is_whole_row"
        )
    assert reason == "the session of Ada on 2026-01-05 stands in log.csv already, imported earlier"
    assert value == "back squat, 100 kg x 5, RPE 8, straight bar | back squat, 100 kg x 5, RPE 8, straight bar"


def test_importing_the_copy_again_changes_nothing(path):
    two = season("copy.csv")
    two.files[0] = replace(two.files[0], sha256="3" * 64)
    stored(path, season("log.csv"), two)
    before = contents(path, without=("import_run",))
    assert stored(path, two).changes == ()
    stored(path, season("log.csv"))
    assert contents(path, without=("import_run",)) == before


def test_other_work_of_the_same_day_in_another_file_is_kept(path):
    squats, curls = HandLogs("a.csv").set(0, times=3), HandLogs("b.csv", "2" * 64).set(0, times=2)
    stored(path, squats.done(), curls.set(0, 30, 10, exercise="curl").done())
    with Store.open(path, read_only=True) as store:
        assert store.rows("select count(*) from lift_set") == [(6,)]


def test_session_takes_each_value_where_it_is_written(path):
    logs = HandLogs().set(0).session(0, duration_min=90).session(0, session_rpe=7, note="windy", duration_min=80).done()
    stored(path, logs)
    with Store.open(path, read_only=True) as store:
        assert store.rows("select session_rpe, duration_min, note from session") == [(7.0, 90.0, "windy")]


def test_rows_without_their_file_are_refused_whole(path):
    logs = season()
    logs.files.clear()
    with pytest.raises(PreflareError, match=r"log\.csv: rows came without their file"):
        stored(path, logs)
    with Store.open(path, read_only=True) as store:
        assert store.rows("select count(*) from lift_set") == [(0,)]


def test_failed_import_leaves_the_store_as_it_was(path):
    stored(path, season())
    before = contents(path)
    broken = season("b.csv")
    broken.sets = [*broken.sets, replace(broken.sets[0], load_kg="heavy")]  # type: ignore[arg-type]
    with pytest.raises(Exception, match=r"heavy|f64|Float64"):
        stored(path, broken)
    assert contents(path) == before


def test_exercise_that_the_vocabulary_lost_is_kept_as_other(path):
    logs = HandLogs().set(0).set(0, exercise="yard throw").done()
    stored(path, logs)
    with Store.open(path, read_only=True) as store:
        assert store.rows("select family from exercise where exercise = 'yard throw'") == [("other",)]


@pytest.mark.skipif(sys.platform == "win32", reason="SIGKILL is not a Windows signal")
@pytest.mark.parametrize("delay", [0.05, 0.2])
def test_import_killed_midway_leaves_the_store_before_or_after(tmp_path, delay):
    # kill_imports.py does the same at any number of random moments
    assert killed_after(tmp_path / "season.duckdb", delay) in {"before", "after"}


def test_settings_are_stored_and_definitions_remember_when_they_were_first_seen(path):
    text = "[event]\nrating = 5\n"
    stored(path, season(), settings=parse_settings(text), text=text)
    with Store.open(path) as store:
        assert store.settings().event.rating == 5
        first = store.definitions()
        assert first.hash == parse_settings(text).definitions_hash()
        assert first.changed == ()
        store.import_logs(season(), Settings(), "")
        now = store.definitions()
        assert [(change.key, change.before, change.after) for change in now.changed] == [("event.rating", 5, 4)]
        assert now.values["event"]["rating"] == 4


def test_definitions_from_before_the_family_was_written_down_compare_on_what_they_had(path):
    stored(path, season())
    with Store.open(path) as store:
        now = store.definitions()
        had = {key: now.values[key] for key in ("event", "flare_up", "assume", "seed")}
        for table in ("definition_seen", "import_run"):
            store._connection.execute(f"update {table} set definitions_hash = 'before'")
        store._connection.execute(
            "update definition_seen set first_seen = date '2025-01-02', definitions = ?", [json.dumps(had)]
        )
        store.import_logs(season(), Settings(), "")
        later = store.definitions()
        assert later.hash == now.hash
        assert later.changed == ()
        assert later.first_seen == date(2025, 1, 2)
        text = "[event]\nrating = 5\n"
        store.import_logs(season(), parse_settings(text), text)
        stricter = store.definitions()
        assert [change.key for change in stricter.changed] == ["event.rating"]
        assert stricter.first_seen > date(2025, 1, 2)


def test_another_family_or_gate_shows_as_a_change(path, monkeypatch):
    from preflare import settings

    stored(path, season())
    with Store.open(path) as store:
        monkeypatch.setitem(settings.DECLARED, "family", ["intensity", "safety"])
        monkeypatch.setitem(settings.DECLARED, "gate", {"contributing": 3, "exposed": 30, "events": 30})
        store.import_logs(season(), Settings(), "")
        changed = {change.key: (change.before, change.after) for change in store.definitions().changed}
    assert set(changed) == {"family", "gate.contributing"}
    assert changed["gate.contributing"] == (6, 3)
    assert changed["family"][1] == ["intensity", "safety"]


def test_changed_event_changes_the_views_at_the_next_import(path):
    stored(path, season())
    with Store.open(path) as store:
        strict = store.rows("select sum(event_sessions) from surveillance_count")
        text = "[event]\nrating = 1\n"
        store.import_logs(season(), parse_settings(text), text)
        assert store.rows("select sum(event_sessions) from surveillance_count") > strict


def test_set_row_has_no_field_that_the_store_forgets():
    from dataclasses import fields

    from preflare.store import rows

    kept = set(rows.SETS) | {"place"}
    assert {field.name for field in fields(SetRow)} <= kept
