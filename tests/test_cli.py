"""The commands as a user meets them: exit codes, plain sentences, and never a traceback."""

import json
import os
import re
import subprocess
import sys
import time
from pathlib import Path

import pytest
from click.testing import CliRunner

from preflare import cli
from preflare.season import review_logs

COMMANDS = sorted(cli.main.commands)
SET_LINE = "{day},Ada Example,Back squat,straight,medium,low,{load},5,8,{pain}\n"
HEADER = "Date,Athlete,Exercise,Bar,Grip,Bar position,Load (kg),Reps,RPE,Elbow pain (0-10)\n"


def run(*arguments: object) -> "tuple[int, str]":
    """Exit code, and standard output and error together, of one command in a process of its own."""
    done = subprocess.run(
        [sys.executable, "-m", "preflare.cli", *map(str, arguments)], capture_output=True, text=True, timeout=300
    )
    return done.returncode, done.stdout + done.stderr


def a_season(folder: Path, *, squats: bool = True, pain: bool = True, weeks: int = 16) -> Path:
    """A small tidy log of one lifter: two sessions a week, pain rated after each."""
    from datetime import date, timedelta

    folder.mkdir(parents=True, exist_ok=True)
    lines = [HEADER]
    for number in range(2 * weeks):
        day = date(2025, 9, 1) + timedelta(days=7 * (number // 2) + 3 * (number % 2))
        line = SET_LINE.format(day=day, load=100 + number % 7 * 5, pain=number % 6 if pain else "")
        lines.append(line if squats else line.replace("Back squat", "Bench press"))
    (folder / "log.csv").write_text("".join(lines), encoding="utf-8")
    return folder


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_explains_itself_with_an_example(command):
    done = CliRunner().invoke(cli.main, [command, "--help"])
    assert done.exit_code == 0
    assert re.search(r"Examples?:\n\s+preflare " + command, done.output)


def test_help_answers_in_well_under_half_a_second():
    seconds = []
    for _ in range(3):
        begun = time.perf_counter()
        subprocess.run([sys.executable, "-m", "preflare.cli", "--help"], check=True, capture_output=True)
        seconds.append(time.perf_counter() - begun)
    assert min(seconds) < 0.5


def test_wrong_usage_exits_with_2_and_suggests():
    code, text = run("reveiw", "logs", "--out", "x")
    assert code == 2
    assert "review" in text


def test_a_language_without_words_is_wrong_usage_and_nothing_is_written(tmp_path):
    code, told = run("review", a_season(tmp_path / "logs"), "--out", tmp_path / "out", "--language", "xx")
    assert code == 2
    assert 'there are no words in "xx". Known here:' in told
    assert not (tmp_path / "out").exists()


def test_a_missing_folder_is_told_in_a_sentence(tmp_path):
    code, text = run("review", tmp_path / "nowhere", "--out", tmp_path / "out")
    assert code == 2
    assert "nowhere" in text
    assert not (tmp_path / "out" / "season.duckdb").exists()
    assert "Traceback" not in text


def test_an_empty_folder_is_told_in_a_sentence(tmp_path):
    (tmp_path / "logs").mkdir()
    code, text = run("review", tmp_path / "logs", "--out", tmp_path / "out")
    assert code == 1
    assert "Traceback" not in text
    assert "log" in text


def test_a_picture_among_the_logs_is_named_and_the_rest_is_read(tmp_path):
    logs = a_season(tmp_path / "logs")
    (logs / "bar path.png").write_bytes(b"\x89PNG\r\n\x1a\n" + bytes(64))
    code, text = run("import", logs, "--store", tmp_path / "season.duckdb")
    assert code == 0
    assert text.count("bar path.png") == 1
    assert "Traceback" not in text


def test_an_unwritable_output_folder_is_told_before_any_work(tmp_path):
    logs = a_season(tmp_path / "logs")
    (tmp_path / "a file").write_text("in the way")
    code, text = run("review", logs, "--out", tmp_path / "a file" / "review")
    assert code == 1
    assert "nothing can be written there" in text
    assert "Traceback" not in text


def test_logs_without_squats_say_so_and_still_account_for_every_row(tmp_path):
    code, text = run("review", a_season(tmp_path / "logs", squats=False), "--out", tmp_path / "out")
    assert code == 1
    assert "no squat" in text.lower()
    assert "Traceback" not in text
    assert (tmp_path / "out" / "logs.html").is_file()


def test_logs_without_pain_reports_say_so_and_still_account_for_every_row(tmp_path):
    code, text = run("review", a_season(tmp_path / "logs", pain=False), "--out", tmp_path / "out")
    assert code == 1
    assert "no pain report" in text.lower()
    assert "Traceback" not in text
    assert (tmp_path / "out" / "logs.html").is_file()


def test_a_broken_season_toml_is_wrong_usage(tmp_path):
    logs = a_season(tmp_path / "logs")
    (logs / "season.toml").write_text("[event]\nratng = 4\n")
    code, text = run("review", logs, "--out", tmp_path / "out")
    assert code == 2
    assert 'Did you mean "rating"?' in text


def test_check_of_an_absent_store_is_wrong_usage(tmp_path):
    code, text = run("check", tmp_path / "none.duckdb")
    assert code == 2
    assert "preflare import" in text


def test_one_lifter_gets_every_file_and_no_strong_claim(tmp_path):
    out = tmp_path / "review"
    result = review_logs([a_season(tmp_path / "logs")], out)
    assert result.problem is None
    assert {"season.duckdb", "findings.json", "team.html", "team.pdf", "logs.html", "tables", "athletes"} <= set(
        os.listdir(out)
    )
    findings = json.loads((out / "findings.json").read_text(encoding="utf-8"))
    assert {finding["grade"] for finding in findings["findings"]} == {"too little data"}
    assert list((out / "athletes").glob("*.pdf"))
    assert list((out / "tables").glob("*.csv"))
    assert 8 <= len(result.summary) <= 20
