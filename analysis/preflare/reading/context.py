"""What reading one sheet needs and what it yields: rules from season.toml, vocabularies, and the rows as they come."""

from dataclasses import dataclass, field, replace
from datetime import date
from fnmatch import fnmatchcase
from typing import TYPE_CHECKING

from preflare.reading.dates import Calendar
from preflare.reading.legend import Legend
from preflare.reading.lexicon import Lexicon
from preflare.reading.orders import FileHabits
from preflare.reading.rows import PainRow, Place, RejectedRow, ScreenRow, SessionRow, SetRow
from preflare.reading.text import Cell, as_text, column_letters
from preflare.reading.words import ChoiceBook, Gear, GearColumn, Kind, WordReader
from preflare.reading.workbook import Sheet
from preflare.settings import Settings, Source

if TYPE_CHECKING:
    from preflare.reading.plain import PlainRows
    from preflare.reading.stacked import Stack

RowKey = tuple[str, str, int]  # file, sheet, row number as the user sees it


def cells_text(cells: list[Cell]) -> str:
    """A whole row as text."""
    return " | ".join(as_text(cell) for cell in cells)


@dataclass(slots=True)
class Yield:
    """Everything read so far. Athletes are still as written; people are joined at the end."""

    sets: list[SetRow] = field(default_factory=list)
    sessions: list[SessionRow] = field(default_factory=list)
    pain: list[PainRow] = field(default_factory=list)
    screens: list[ScreenRow] = field(default_factory=list)
    rejected: list[RejectedRow] = field(default_factory=list)
    read: dict[RowKey, list[Cell]] = field(default_factory=dict)  # every row that is not blank -> its cells
    not_data: dict[RowKey, str] = field(default_factory=dict)  # row -> title, headings, totals, legend
    whole: set[RowKey] = field(
        default_factory=set
    )  # rows that hold a whole session, exercise or answer: twice is once too often
    roster: list[str] = field(default_factory=list)  # full names in titles and lists of members, of all files
    short_names: dict[str, str] = field(default_factory=dict)  # that lists or legends explain; "" where two are told
    plain: list["PlainRows"] = field(default_factory=list)  # the ordinary rows of long sheets, kept as frames
    unnamed: dict[str, str] = field(default_factory=dict)  # stand-in for the person of a log that names nobody -> file
    order: dict[tuple[str, str], int] = field(default_factory=dict)  # file and sheet -> their place in reading order


@dataclass(slots=True)
class SheetContext:
    """One sheet being read."""

    file: str
    sheet: Sheet
    settings: Settings
    rules: Source
    lexicon: Lexicon
    words: WordReader
    choices: ChoiceBook
    calendar: Calendar
    out: Yield
    today: date
    unit: str | None = None  # kg or lb for loads whose cell and heading say nothing
    person: str | None = None  # whose sheet it is, when no column says so
    is_diary: bool = False  # lines of text without columns
    exercise: str | None = None  # what the sheet is about, when no column says so
    letters: dict[str, str] = field(default_factory=dict)  # letters that a legend gives to people
    habits: FileHabits | None = None  # how its file writes sets
    asked_sites: tuple[str, ...] = ()  # sites of the last line kept for pain, for lines such as "next morning: R 4"
    legend: Legend = field(default_factory=Legend)  # what the file explains of itself
    assumptions: list[str] = field(default_factory=list)
    units_met: set[str] = field(default_factory=set)
    has_open_units: bool = False  # some load has no unit, and nothing says which it is
    marks: dict[str, str] = field(
        default_factory=dict
    )  # marks at sets that a legend declares -> warm_up, failed, other
    looks: dict[tuple[int, int], str] = field(
        default_factory=dict
    )  # cells whose look a legend explains -> warm_up, failed, total
    gear_letters: dict[GearColumn, dict[str, str]] = field(
        default_factory=dict
    )  # letters in columns of bars, grips and positions -> what they stand for in this file
    warm_up_signs: frozenset[str] = frozenset()  # letters that number warm-ups in columns of set numbers
    is_gear_carried: bool = False  # rows that name their lift again keep bar and grip of the set before, where blank
    blank_columns: dict[int, bool] = field(default_factory=dict)  # column of repetitions -> whether it holds none
    first_week: int | None = None  # the lowest that sheets are named for, else the number that was asked for first
    doubted_days: dict[int, tuple[str, str]] = field(default_factory=dict)  # row -> why its date is not taken, remedy
    line_gear: dict[tuple[int, int], Gear] = field(default_factory=dict)  # row, column -> what it names for a lift
    stand_ins: dict[tuple[int, int], Cell] = field(default_factory=dict)  # row, column -> the cell that it stands for
    stacks: dict[int, "Stack"] = field(default_factory=dict)  # row -> the lift whose loads or repetitions it holds

    def place(self, row: int, column: int | None = None) -> Place:
        """Where a cell stands; row and column 0-based in the sheet."""
        letters = "" if column is None else column_letters(column)
        return Place(self.file, self.sheet.name, self.sheet.line_numbers[row], letters)

    @property
    def is_unnamed(self) -> bool:
        """Whether nothing but a stand-in is known of whose sheet it is."""
        return self.person is None or self.person in self.out.unnamed

    def key(self, row: int) -> RowKey:
        return (self.file, self.sheet.name, self.sheet.line_numbers[row])

    def cell(self, row: int, column: int) -> Cell:
        if self.stand_ins and (row, column) in self.stand_ins:
            return self.stand_ins[row, column]
        cells = self.sheet.rows[row]
        return cells[column] if column < len(cells) else None

    def reject_row(self, row: int, reason: str, remedy: str) -> None:
        self.out.rejected.append(RejectedRow(self.place(row), cells_text(self.sheet.rows[row]), reason, remedy, True))

    def reject_cell(self, row: int, column: int, value: Cell, reason: str, remedy: str) -> None:
        self.out.rejected.append(RejectedRow(self.place(row, column), as_text(value), reason, remedy, False))

    def not_data(self, row: int, what: str) -> None:
        self.out.not_data[self.key(row)] = what

    def gear(self, written: str, column: GearColumn) -> tuple[Gear, str]:
        """(gear, words that nothing knew) of a cell in a column of bars, grips or positions."""
        meant = self.gear_letters.get(column, {}).get(written)
        if meant is None:
            return self.words.gear(written, column)
        self.assume(f'In columns for the {column}, "{written}" was read as {meant}.')
        found, unknown = self.words.gear(meant, column)
        own = replace(
            found,
            bar_written=found.bar_written and written,
            grip_written=found.grip_written and written,
        )
        return own, unknown

    def choose(self, kind: Kind, written: str, understood: str | None, how: str, nearest: str | None = None) -> None:
        self.choices.note(self.file, self.sheet.name, kind, written, understood, how, nearest)  # type: ignore[arg-type]

    def assume(self, sentence: str) -> None:
        if sentence not in self.assumptions:
            self.assumptions.append(sentence)


def rules_for(file: str, sheet: str, sources: list[Source]) -> Source:
    """The [[source]] entries that fit a file and sheet, merged; a later entry wins."""
    merged: dict[str, object] = {"file": file}
    columns: dict[str, str] = {}
    for source in sources:
        fits_file = fnmatchcase(file, source.file) or fnmatchcase(file.rsplit("/", 1)[-1], source.file)
        if fits_file and (source.sheet is None or fnmatchcase(sheet, source.sheet)):
            merged |= source.model_dump(exclude_unset=True, exclude={"file", "sheet", "columns"})
            columns |= source.columns
    return Source.model_validate(merged | {"columns": columns})
