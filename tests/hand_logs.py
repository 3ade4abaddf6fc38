"""Logs made by hand, row by row, for the tests of the store and of the exposures."""

import random
from datetime import date, timedelta
from hashlib import sha256
from typing import Any

from preflare.reading.rows import (
    Choice,
    FileReading,
    Logs,
    PainRow,
    Place,
    RejectedRow,
    ScreenRow,
    SessionRow,
    SetRow,
    SheetReading,
)

MONDAY = date(2026, 1, 5)  # day 0 of every hand-made season


def on(day: int) -> date:
    """The date of day `day` of the season."""
    return MONDAY + timedelta(days=day)


class HandLogs:
    """Collects rows; each call of set() or pain() is one source row of one sheet."""

    def __init__(self, file: str = "log.csv", digest: str = "0" * 64) -> None:
        self.logs = Logs()
        self.file, self.digest = file, digest
        self.n_rows = 1  # the heading

    def _place(self) -> Place:
        self.n_rows += 1
        return Place(self.file, "", self.n_rows)

    def set(
        self, day: int, load_kg: float | None = 100.0, reps: int | None = 5, *, times: int = 1, **other: Any
    ) -> "HandLogs":
        """`times` equal sets in one source row; unnamed fields are a back squat of Ada's with nothing else written."""
        place = self._place()
        values: dict[str, Any] = {
            "athlete": "Ada", "date": on(day), "ordinal": 1, "exercise": "back squat", "exercise_written": None,
            "bar": "straight", "bar_written": None, "bar_position": None, "grip_width": None, "grip_style": None,
            "grip_written": None, "load_kg": load_kg, "reps": reps, "rpe": None, "rir": None, "is_warm_up": False,
            "is_failed": False, "note": None, "place": place,
        } | other  # fmt: skip
        values["exercise_written"] = values["exercise_written"] or values["exercise"]
        for _ in range(times):
            key = (values["athlete"], values["date"], values["ordinal"], values["exercise_written"])
            number = 1 + sum((s.athlete, s.date, s.ordinal, s.exercise_written) == key for s in self.logs.sets)
            self.logs.sets.append(SetRow(**values, set_number=number))
        return self

    def pain(self, day: int, rating: float | None, **other: Any) -> "HandLogs":
        """One report; unnamed fields are Ada's right elbow, after the session, in a pain column."""
        values: dict[str, Any] = {
            "athlete": "Ada", "date": on(day), "reported_at": None, "rating": rating, "severity_word": None,
            "site": "elbow", "side": "right", "moment": "after", "kind": "pain", "origin": "column",
            "evidence": str(rating), "place": self._place(),
        } | other  # fmt: skip
        self.logs.pain.append(PainRow(**values))
        return self

    def session(self, day: int, **other: Any) -> "HandLogs":
        """What a row says of a whole session."""
        values: dict[str, Any] = {
            "athlete": "Ada", "date": on(day), "ordinal": 1, "session_rpe": None, "duration_min": None,
            "started_at": None, "note": None, "place": self._place(),
        } | other  # fmt: skip
        self.logs.sessions.append(SessionRow(**values))
        return self

    def screen(self, day: int, value: float, **other: Any) -> "HandLogs":
        """One mobility test result."""
        values: dict[str, Any] = {
            "athlete": "Ada", "date": on(day), "test": "shoulder external rotation", "side": "right", "value": value,
            "unit": "degrees", "place": self._place(),
        } | other  # fmt: skip
        self.logs.screens.append(ScreenRow(**values))
        return self

    def rejected(self, value: str = "12O", *, is_whole_row: bool = True) -> "HandLogs":
        """A row, or a cell of the row before, that was set aside."""
        place = self._place() if is_whole_row else Place(self.file, "", self.n_rows, "F")
        row = RejectedRow(place, value, "the load is not a number", "correct the cell and import again", is_whole_row)
        self.logs.rejected.append(row)
        return self

    def choice(self, written: str, understood: str | None) -> "HandLogs":
        """What a word was taken to mean."""
        how, nearest = ("vocabulary", None) if understood else ("not known", "safety")
        self.logs.choices.append(Choice(self.file, "", "bar", written, understood, how, nearest, 1))  # type: ignore[arg-type]
        return self

    def done(self) -> Logs:
        """The logs, with the file and its one sheet accounted for."""
        rejected = sum(row.is_whole_row for row in self.logs.rejected)
        sheet = SheetReading(
            self.file, "", "one row a set", {"Weight": "load"}, "true dates", "kg", "en", False, self.n_rows,
            self.n_rows - 1 - rejected, rejected, 1, ("dates are read day first",),
        )  # fmt: skip
        self.logs.files.append(FileReading(self.file, self.digest, "csv", "utf-8", None, (sheet,)))
        names = {row.athlete for row in [*self.logs.sets, *self.logs.pain, *self.logs.sessions, *self.logs.screens]}
        self.logs.people = {name: (name, name.upper()) for name in sorted(names)}
        return self.logs


def joined(*parts: Logs) -> Logs:
    """Several files' logs as one reading."""
    whole = Logs()
    for part in parts:
        for name in ("files", "sets", "sessions", "pain", "screens", "rejected", "choices"):
            getattr(whole, name).extend(getattr(part, name))
        whole.people |= part.people
    return whole


def random_season(seed: int, file: str = "log.csv") -> HandLogs:
    """Four lifters, ten weeks, everything that a log can hold, at random."""
    numbers, logs = random.Random(seed), HandLogs(file, sha256(file.encode()).hexdigest())
    for athlete in ("Ada", "Bea", "Cat", "Dot"):
        for day in range(70):
            if numbers.random() < 0.45:
                logs.set(
                    day, numbers.choice([None, 40.0, 90.0, 100.0, 120.0]), numbers.choice([1, 3, 5, 12, None]),
                    times=numbers.randint(1, 4), athlete=athlete, ordinal=numbers.choice([1, 1, 1, 2]),
                    exercise=numbers.choice(["back squat", "back squat", "box squat", "front squat", "curl", "row"]),
                    bar=numbers.choice(["straight", "straight", "safety", "cambered", "other", None]),
                    grip_width=numbers.choice(["narrow", "medium", "wide", None]),
                    bar_position=numbers.choice(["high", "low", None]), rpe=numbers.choice([7.0, 8.5, None]),
                    is_warm_up=numbers.random() < 0.1, is_failed=numbers.random() < 0.05,
                )  # fmt: skip
            if numbers.random() < 0.5:
                logs.pain(
                    day, numbers.choice([0, 0, 1, 2, 4, 6, None]), athlete=athlete,
                    moment=numbers.choice(["before", "during", "after", "after", "next morning", "unknown"]),
                    site=numbers.choice(["elbow", "elbow", "forearm", "knee", "unknown"]),
                    kind=numbers.choice(["pain", "pain", "pain", "numbness"]),
                )  # fmt: skip
            if numbers.random() < 0.1:
                logs.session(day, athlete=athlete, duration_min=60.0, note="pop in the elbow")
    return logs
