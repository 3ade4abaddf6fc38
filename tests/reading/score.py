"""Score the reader against logs whose truth was written by hand: `python tests/reading/score.py FOLDER`.

`--csv FOLDER ...` prints the figures of each log alone, as kept_by_others/scores.csv keeps them.

FOLDER holds logs, perhaps season.toml, and beside them truth/sets.csv and truth/pain.csv; or it holds such folders.
The logs are copied without truth/ and read through `preflare.season.read_everything`, as `preflare import` reads them.

truth/sets.csv: athlete, date, exercise, bar, grip_width, bar_position, load_kg, reps, rpe, is_warm_up, flag
truth/pain.csv: athlete, date, site, side, rating, severity, moment, origin, flag

How it is counted. People, exercises and sites are compared without case, accents and the order of a name's parts.
- right: athlete, date, exercise, load (within 0.06 kg, for pounds), repetitions, bar, grip, position and warm-up agree.
- wrong: something of it differs; which field is said. Missed: in the truth alone. Invented: in what was read alone.
- Bar, grip and position must agree wherever the truth names them, and must be left open on back squats where the truth
  leaves them open; on other lifts the reader may say more than the truth.
- An exercise that the vocabulary does not know is right where the name kept as written is that of the truth.
- The effort never makes a set wrong; it is counted apart, 10 less the repetitions in reserve where the log gives those.
- pain: right when athlete, date, site, side, rating (else the severity word) and moment agree; a half is stored as
  written and is right where the truth rounds it up (2.5 and 3). An empty side is
  "unknown", an empty moment is not compared, and "both" equals one report of each side. Where the truth says of a
  note that its moment is unknown, "after" is right too: so the program reads a training log's remark that says nothing
  of the time. The origin is not compared.
- A report of the next morning may be dated by the morning or by the session before it (two days at most).
- Reports of other places than arm and shoulder that the truth leaves out are no inventions: it need not give them.
- A name read without its other parts is that of the one person of the truth who has them.
- flag "set aside" or "undecidable": right when nothing was stored of it, when it was stored without the doubtful value,
  or when the row where it stands has an entry among what was set aside; wrong when it was stored as a plain value.
- a wrong load is flagged when the row where it stands has an entry among what was set aside.
"""

import csv
import shutil
import sys
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from preflare.reading.lexicon import Phrases, make_lexicon
from preflare.reading.people import name_key
from preflare.reading.rows import Logs, PainRow, SetRow
from preflare.reading.text import fold
from preflare.reading.vocabulary import back_squats
from preflare.season import read_everything

KG = 0.06  # a load in pounds is written with one or two decimals in the truth
AIM_EACH, AIM_ALL = 0.95, 0.99

Row = dict[str, Any]  # one set or pain report, of the truth or as read, in the same words
Differ = Callable[[Row, Row], list[str]]  # (truth, read) -> the fields that differ


@dataclass
class Tally:
    """Counts of one kind for one log, and a line for each difference."""

    right: int = 0
    wrong: int = 0
    missed: int = 0
    invented: int = 0
    silent_loads: int = 0  # wrong loads that nothing in the row points to
    efforts: int = 0  # right sets whose effort differs
    lines: list[str] = field(default_factory=list)

    @property
    def truth(self) -> int:
        return self.right + self.wrong + self.missed

    def __add__(self, other: "Tally") -> "Tally":
        return Tally(
            self.right + other.right, self.wrong + other.wrong, self.missed + other.missed,
            self.invented + other.invented, self.silent_loads + other.silent_loads, self.efforts + other.efforts,
        )  # fmt: skip


# Truth and what was read, in the same words -----------------------------------------------------------------------


def _number(text: str | None) -> float | None:
    return float(text.replace(",", ".")) if text and text.strip() else None


def _true_effort(text: str | None) -> float | None:
    """An effort of the truth as RPE; "RIR 2" is 8."""
    is_rir = fold(text or "").startswith("rir")
    number = _number((text or "").casefold().replace("rir", ""))
    return number if number is None or not is_rir else 10 - number


def _canonical(phrases: Phrases, text: str) -> str:
    """The program's own word for a site or exercise of the truth, which may name it in other words ("lower back")."""
    return fold(phrases.exact(text) or text)


def _yes(text: str | None) -> bool:
    return (text or "").strip().casefold() in {"1", "true", "yes", "y", "x"}


def _truth(path: Path) -> list[dict[str, str]]:
    if not path.is_file():
        return []
    with path.open(encoding="utf-8-sig", newline="") as stream:
        return [{key: (value or "").strip() for key, value in row.items() if key} for row in csv.DictReader(stream)]


def true_sets(path: Path) -> list[Row]:
    """The sets of truth/sets.csv."""
    return [
        {
            "athlete": name_key(row["athlete"]), "who": row["athlete"], "date": row["date"],
            "exercise": _canonical(make_lexicon().exercise, row["exercise"]), "bar": row.get("bar") or None,
            "grip": row.get("grip_width") or None,
            "position": row.get("bar_position") or None, "load": _number(row.get("load_kg")),
            "reps": _number(row.get("reps")), "rpe": _true_effort(row.get("rpe")),
            "warm-up": _yes(row.get("is_warm_up")),
            "flag": fold(row.get("flag", "")), "place": "",
        }
        for row in _truth(path)
    ]  # fmt: skip


def read_sets(logs: Logs) -> list[Row]:
    """The sets that were read."""
    return [
        {
            "athlete": name_key(one.athlete), "who": one.athlete, "date": one.date.isoformat(),
            "exercise": fold(one.exercise), "bar": one.bar, "grip": one.grip_width, "position": one.bar_position,
            "load": one.load_kg, "reps": one.reps, "rpe": _effort(one), "warm-up": one.is_warm_up, "flag": "",
            "place": str(one.place), "row": _row_of(one), "written": one.exercise_written,
        }
        for one in logs.sets
    ]  # fmt: skip


def _effort(one: SetRow) -> float | None:
    return one.rpe if one.rpe is not None else None if one.rir is None else 10 - one.rir


def _row_of(one: SetRow | PainRow) -> tuple[str, str, int]:
    return one.place.file, one.place.sheet, one.place.row


def true_pain(path: Path) -> list[Row]:
    """The reports of truth/pain.csv; a word for none counts as a rating of 0."""
    rows = []
    for row in _truth(path):
        rating, word = _number(row.get("rating")), fold(row.get("severity", ""))
        if rating is None and word == "none":
            rating = 0.0
        rows.append(
            {
                "athlete": name_key(row["athlete"]), "who": row["athlete"], "date": row["date"],
                "site": _canonical(make_lexicon().site, row["site"]) or "unknown",
                "side": fold(row.get("side", "")) or "unknown",
                "rating": rating, "severity": word if rating is None else "", "moment": fold(row.get("moment", "")),
                "flag": fold(row.get("flag", "")), "place": "", "origin": fold(row.get("origin", "")),
            }
        )  # fmt: skip
    return rows


def read_pain(logs: Logs) -> list[Row]:
    """The reports that were read."""
    return [
        {
            "athlete": name_key(one.athlete), "who": one.athlete, "date": one.date.isoformat(), "site": fold(one.site),
            "side": one.side, "rating": one.rating, "severity": "" if one.rating is not None else one.severity_word,
            "moment": one.moment, "flag": "", "place": f"{one.place}, {one.evidence!r}", "row": _row_of(one),
        }
        for one in logs.pain
    ]  # fmt: skip


# What differs -----------------------------------------------------------------------------------------------------


def _same_exercise(truth: Row, read: Row) -> bool:
    """Whether the exercises agree; one that is not known is kept as written, which is then what must agree."""
    is_kept = read["exercise"] == "unknown" and fold(read.get("written") or "") == truth["exercise"]
    return bool(truth["exercise"] == read["exercise"] or (is_kept and truth["exercise"]))


def sets_differ(truth: Row, read: Row) -> list[str]:
    """The fields in which two sets differ."""
    fields = [name for name in ("reps", "warm-up") if truth[name] != read[name]]
    fields += [] if _same_exercise(truth, read) else ["exercise"]
    a, b = truth["load"], read["load"]
    if (a is None) != (b is None) or (a is not None and abs(a - b) > KG):
        fields.insert(0, "load")
    is_squat = truth["exercise"] in back_squats()
    return fields + [
        name for name in ("bar", "grip", "position") if truth[name] != read[name] and (truth[name] or is_squat)
    ]


def _same_rating(truth: float | None, read: float | None) -> bool:
    """Whether two ratings agree; a half is kept as written and agrees with a truth that rounds halves up."""
    return truth == read or (truth is not None and read is not None and read % 1 == 0.5 and truth == read + 0.5)


def reports_differ(truth: Row, read: Row) -> list[str]:
    """The fields in which two reports differ."""
    fields = [name for name in ("site", "side", "severity") if truth[name] != read[name]]
    fields += [] if _same_rating(truth["rating"], read["rating"]) else ["rating"]
    moments = (
        {truth["moment"], "after"} if (truth["moment"], truth["origin"]) == ("unknown", "note") else {truth["moment"]}
    )
    return fields + (["moment"] if truth["moment"] and read["moment"] not in moments else [])


def _pair(truth: list[Row], read: list[Row], differ: Differ, most: int) -> list[tuple[Row, Row, list[str]]]:
    """Pairs of rows of one day that differ in `most` fields at most, the likest first; both lists shrink."""
    scored = sorted(
        (
            (len(fields), a, b, fields)
            for a, one in enumerate(truth)
            for b, other in enumerate(read)
            if len(fields := differ(one, other)) <= most
        ),
        key=lambda found: found[:3],
    )
    pairs: list[tuple[Row, Row, list[str]]] = []
    used_truth: set[int] = set()
    used_read: set[int] = set()
    for _, a, b, fields in scored:
        if a in used_truth or b in used_read:
            continue
        used_truth.add(a)
        used_read.add(b)
        pairs.append((truth[a], read[b], fields))
    truth[:] = [one for a, one in enumerate(truth) if a not in used_truth]
    read[:] = [one for b, one in enumerate(read) if b not in used_read]
    return pairs


def _join_sides(truth: list[Row], read: list[Row]) -> None:
    """Let one report of both sides stand for a left and a right one that are otherwise equal, either way round."""
    for rows, others in ((read, truth), (truth, read)):
        for one in [row for row in rows if row["side"] == "both"]:
            halves = [
                next(
                    (
                        other
                        for other in others
                        if other["side"] == side
                        and all(other[name] == one[name] for name in ("site", "rating", "severity"))
                    ),
                    None,
                )
                for side in ("left", "right")
            ]
            if all(halves):
                rows.remove(one)
                rows.extend(one | {"side": side} for side in ("left", "right"))


# Counting ---------------------------------------------------------------------------------------------------------


def tally(
    truth: Sequence[Row], read: Sequence[Row], differ: Differ, flagged_rows: set[tuple[str, str, int]], what: str
) -> Tally:
    """Counts for one log. flagged_rows: (file, sheet, row) of everything that was set aside."""
    counts = Tally()
    days = {(row["athlete"], row["date"]) for row in (*truth, *read)}
    for who, day in sorted(days):
        mine = [row for row in truth if (row["athlete"], row["date"]) == (who, day)]
        theirs = [row for row in read if (row["athlete"], row["date"]) == (who, day)]
        plain, doubtful = [r for r in mine if not r["flag"]], [r for r in mine if r["flag"]]
        if what == "pain":
            _join_sides(plain, theirs)
        pairs = _pair(plain, theirs, differ, 0)
        _count_doubtful(counts, doubtful, theirs, differ, flagged_rows)
        pairs += _pair(plain, theirs, differ, 3 if what == "sets" else 2)
        for one, other, fields in pairs:
            _count_pair(counts, one, other, fields, flagged_rows)
        if what == "pain":
            theirs[:] = [row for row in theirs if row["site"] in _ARM]
        counts.missed += len(plain)
        counts.invented += len(theirs)
        counts.lines += [f"missed    {_shown(row)}" for row in plain]
        counts.lines += [f"invented  {_shown(row)}" for row in theirs]
    return counts


_ARM = frozenset({"elbow", "upper arm", "forearm", "wrist", "shoulder", "biceps", "triceps", "hand", "unknown", ""})


def _named_as_in_truth(truth: Sequence[Row], read: Sequence[Row]) -> None:
    """Give a read name that is part of one true name only that person's."""
    people = {row["athlete"] for row in truth}
    for row in read:
        fitting = [person for person in people if set(row["athlete"]) <= set(person)]
        if row["athlete"] not in people and len(fitting) == 1:
            row["athlete"] = fitting[0]


def _join_mornings(truth: Sequence[Row], read: Sequence[Row]) -> None:
    """Date what was read of a next morning as the truth does, where both mean one report."""
    for one in (row for row in truth if row["moment"] == "next morning"):
        day = date.fromisoformat(one["date"])
        near = {(day + timedelta(days=n)).isoformat() for n in (0, 1, 2)}
        same = (row for row in read if row["athlete"] == one["athlete"] and row["date"] in near)
        match = next((row for row in same if not reports_differ(one, row)), None)
        if match is not None:
            match["date"] = one["date"]


def _count_pair(counts: Tally, one: Row, other: Row, fields: list[str], flagged: set[tuple[str, str, int]]) -> None:
    if not fields:
        counts.right += 1
        if one.get("rpe") is not None and one["rpe"] != other["rpe"]:
            counts.efforts += 1
            counts.lines.append(f"effort    {one['rpe']:g} read as {other['rpe']}: {_shown(other)}")
        return
    counts.wrong += 1
    is_told = other["row"] in flagged
    if "load" in fields and not is_told and other["load"] is not None:
        counts.silent_loads += 1
    said = "set aside in part" if is_told else "not flagged"
    counts.lines.append(f"wrong     {', '.join(fields)} ({said}): {_shown(one)} was read as {_shown(other)}")


def _count_doubtful(
    counts: Tally, doubtful: list[Row], theirs: list[Row], differ: Differ, flagged: set[tuple[str, str, int]]
) -> None:
    """Rows that must not be stored as plain values."""
    for one in doubtful:
        near = sorted(theirs, key=lambda other: (len(differ(one, other)), other["place"]))
        best = next((other for other in near if len(differ(one, other)) <= 2 or other["row"] in flagged), None)
        if best is None:
            counts.right += 1
            continue
        fields = differ(one, best)
        if fields and best["row"] not in flagged and "load" not in fields and "rating" not in fields:
            counts.right += 1  # another row of that day, which happens to be like it
            continue
        theirs.remove(best)
        if best["row"] in flagged or best.get("load", 0) is None:
            counts.right += 1
            continue
        counts.wrong += 1
        counts.silent_loads += "load" in best
        counts.lines.append(f"wrong     stored, though it is {one['flag']}: {_shown(best)}")


def _shown(row: Row) -> str:
    names = ("exercise", "bar", "grip", "position", "load", "reps", "site", "side", "rating", "severity", "moment")
    said = [f"{row[name]:g}" if isinstance(row[name], float) else str(row[name]) for name in names if row.get(name)]
    said += ["0" for name in ("rating", "reps") if row.get(name) == 0]
    said += ["warm-up"] if row.get("warm-up") else []
    written = f' written "{row["written"]}"' if row.get("exercise") == "unknown" else ""
    return f"{row['who']} {row['date']} {' '.join(said)}{written}{' [' + row['place'] + ']' if row['place'] else ''}"


# Folders ----------------------------------------------------------------------------------------------------------


def read_folder(folder: Path) -> Logs:
    """Everything in a folder but truth/ and NOTES.md, read as a user's would be."""
    with TemporaryDirectory() as temporary:
        logs = Path(temporary) / folder.resolve().name
        shutil.copytree(folder, logs, ignore=shutil.ignore_patterns("truth", "NOTES*"))
        return read_everything([logs], None).logs


def score(folder: Path) -> tuple[Tally, Tally]:
    """(sets, pain reports) of one log folder with its truth."""
    logs = read_folder(folder)
    flagged = {(row.place.file, row.place.sheet, row.place.row) for row in logs.rejected}
    truth = folder / "truth"
    told, reports = true_pain(truth / "pain.csv"), read_pain(logs)
    true, sets = true_sets(truth / "sets.csv"), read_sets(logs)
    _named_as_in_truth([*true, *told], sets)
    _named_as_in_truth([*true, *told], reports)
    _join_mornings(told, reports)
    return (
        tally(true, sets, sets_differ, flagged, "sets"),
        tally(told, reports, reports_differ, flagged, "pain"),
    )


def folders_in(path: Path) -> list[Path]:
    """The folder itself when it has a truth/, else those in it that have one."""
    found = [path] if (path / "truth").is_dir() else sorted(one for one in path.iterdir() if (one / "truth").is_dir())
    if not found:
        raise SystemExit(f"{path}: no truth/ folder in it or in the folders in it.")
    return found


def table(scores: Iterable[tuple[str, tuple[Tally, Tally]]]) -> list[str]:
    """One line a log, and one for all."""
    rows = list(scores)
    if len(rows) > 1:
        sets, pain = Tally(), Tally()
        for _, (one, other) in rows:
            sets, pain = sets + one, pain + other
        rows.append(("all", (sets, pain)))
    width = max(len(name) for name, _ in rows)
    head = f"{'':{width}}  sets: truth right wrong missed invented  right %   silent loads  efforts  |"
    lines = [f"{head} pain: truth right wrong missed invented  right %"]
    for name, (sets, pain) in rows:
        left = f"{sets.truth:11}{sets.right:6}{sets.wrong:6}{sets.missed:7}{sets.invented:9}{_percent(sets):>9}"
        right = f"{pain.truth:11}{pain.right:6}{pain.wrong:6}{pain.missed:7}{pain.invented:9}{_percent(pain):>9}"
        lines.append(f"{name:{width}}  {left}{sets.silent_loads:15}{sets.efforts:9}  | {right}")
    return lines


HEADINGS = ("log", "sets", "sets_right", "silent_loads", "reports", "reports_right", "reports_invented")


def figures(folders: Iterable[Path]) -> list[list[str]]:
    """What `kept_by_others/scores.csv` keeps: one row a log, headed by HEADINGS."""
    rows = []
    for folder in folders:
        sets, pain = score(folder)
        numbers = (sets.truth, sets.right, sets.silent_loads, pain.truth, pain.right, pain.invented)
        rows.append([f"{folder.parent.name}/{folder.name}", *map(str, numbers)])
    return rows


def _percent(counts: Tally) -> str:
    return "none" if not counts.truth else f"{100 * counts.right / counts.truth:.1f}"


def meets_aim(counts: Sequence[Tally]) -> bool:
    """At least 95 % right in each log and 99 % over all."""
    known = [one for one in counts if one.truth]
    right, truth = sum(one.right for one in known), sum(one.truth for one in known)
    return all(one.right >= AIM_EACH * one.truth for one in known) and right >= AIM_ALL * truth


def main(arguments: Sequence[str]) -> int:
    """Print the table, each difference with its place, and whether the aim is met; 1 when it is not."""
    if arguments[:1] == ["--csv"]:
        rows = [row for path in arguments[1:] for row in figures(folders_in(Path(path)))]
        csv.writer(sys.stdout, lineterminator="\n").writerows([HEADINGS, *rows])
        return 0
    if len(arguments) != 1 or not Path(arguments[0]).is_dir():
        print(__doc__)
        return 2
    found = [(folder.name, score(folder)) for folder in folders_in(Path(arguments[0]))]
    for name, kinds in found:
        for what, counts in zip(("sets", "pain"), kinds, strict=True):
            for line in counts.lines:
                print(f"{name}: {what}: {line}")
    print("\n".join(["", *table(found)]))
    sets, pain = [kinds[0] for _, kinds in found], [kinds[1] for _, kinds in found]
    invented, silent = sum(one.invented for one in pain), sum(one.silent_loads for one in sets)
    is_met = meets_aim(sets) and meets_aim(pain) and invented == 0 and silent == 0
    print(f"\nInvented pain reports: {invented}. Wrong loads that were not flagged: {silent}.")
    answer = "met" if is_met else "not met"
    print(f"Aim (95 % of sets and of pain reports in each log, 99 % over all, both figures 0): {answer}.")
    return 0 if is_met else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
