"""What the sheets of a file say together: tables, the order of day and month, years, unit, what letters mean."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date

from preflare.reading.coded import CodedRows, code_rows, is_long
from preflare.reading.column_contents import settle_by_contents
from preflare.reading.context import SheetContext, Yield, rules_for
from preflare.reading.crosswise import Crosswise, find_crosswise
from preflare.reading.crosswise_labels import gear_in_rows
from preflare.reading.date_order import decide_order, may_be_swapped
from preflare.reading.dates import Calendar, Order, Written
from preflare.reading.diary import has_columns, is_diary, is_of_lines, unfolded
from preflare.reading.formats import RawFile
from preflare.reading.gear_letters import letters_of_file
from preflare.reading.headless import find_without_headings
from preflare.reading.legend import Legend
from preflare.reading.legend_files import as_legend
from preflare.reading.legend_lines import is_legend_sheet
from preflare.reading.lexicon import Lexicon
from preflare.reading.looks import LooksOfFile, looks_of_file
from preflare.reading.marks import marks_in
from preflare.reading.numbered_weeks import first_week_in
from preflare.reading.orders import FileHabits
from preflare.reading.people_across import split_people
from preflare.reading.roles import taught_headings
from preflare.reading.rosters import names_in_lists, names_in_titles, nicknames_in, people_by_letter, short_names_in
from preflare.reading.sheet_dates import (
    OtherDates,
    dated_sheet,
    dates_of,
    has_days_in_rows,
    lines_above,
    say_years,
    years_of_file,
)
from preflare.reading.survey import text_lines, told_unit
from preflare.reading.tables import SheetTables, find_tables, settle_roles
from preflare.reading.words import ChoiceBook, GearColumn, WordReader
from preflare.reading.workbook import Sheet
from preflare.reading.years import Told
from preflare.settings import Settings, Source


@dataclass(slots=True)
class FoundSheet:
    """A sheet with its rules from season.toml and its tables; across: days, weeks or people that run across it."""

    sheet: Sheet
    rules: Source
    tables: SheetTables
    across: Crosswise | None = None
    lines: list[str] = field(default_factory=list)  # its lines of text outside of tables
    seen: list[Written] = field(default_factory=list)  # what its dates say

    def shown(self) -> SheetTables:
        """The tables that its titles and dates are looked for in."""
        return self.across.tables() if self.across is not None else self.tables


@dataclass(slots=True)
class FileSurvey:
    """Everything that the sheets of one file share."""

    file: str
    sheets: list[FoundSheet]
    years: Sequence[Told]
    order: Order
    how: str  # day and month were put in order
    is_doubted: bool  # day and month of true dates may have been swapped
    unit: str | None
    letters: dict[str, str]
    marks: dict[str, str]
    habits: FileHabits
    looks: LooksOfFile
    gear_letters: dict[GearColumn, dict[str, str]]
    legend: Legend

    @property
    def is_order_open(self) -> bool:
        """Whether some date could be read either way."""
        return any(written.first is not None for found in self.sheets for written in found.seen)

    def order_told(self) -> str:
        """How dates are written, in words."""
        if self.is_order_open:
            return self.order
        seen = [written for found in self.sheets for written in found.seen]
        return "none" if not seen else "true dates" if any(one.is_true_date for one in seen) else "year first"


def survey_file(
    raw: RawFile, settings: Settings, lexicon: Lexicon, legend: Legend, out: Yield, others: OtherDates
) -> FileSurvey:
    """Look over the sheets of a file before any row is read. Raises YearsOpenError as `years_of_file` does."""
    sheets = [_found(sheet, raw.name, settings, lexicon) for sheet in raw.sheets]
    for found in sheets:
        found.lines = text_lines(found.sheet, found.tables)
        found.seen = _dates(found, lexicon)
        out.roster += [
            *names_in_titles(found.lines, lexicon),
            *names_in_lists(found.tables.tables, found.sheet, lexicon),
        ]
        told = nicknames_in(found.lines, lexicon) | short_names_in(found.sheet, found.lines, lexicon)
        for short, full in told.items():
            out.short_names[short] = full if out.short_names.get(short, full) == full else ""  # two people called so
    lines = [line for found in sheets for line in found.lines]
    day_first = next((found.rules.day_first for found in sheets if found.rules.day_first is not None), None)
    seen = [written for found in sheets for written in found.seen]
    order, how = decide_order(
        seen, day_first, (settings.season.from_, settings.season.to), any(found.across is not None for found in sheets)
    )
    dated = [dated_sheet(one.sheet, one.rules, one.shown(), one.seen, lexicon, others.today) for one in sheets]
    return FileSurvey(
        raw.name,
        sheets,
        years_of_file(raw.name, dated, [found.rules.year for found in sheets], order, settings, others),
        order,
        how,
        day_first is None and may_be_swapped(seen),
        legend.unit or _unit_of_file(sheets, lexicon),
        _letters_of_people(lines, legend, lexicon),
        marks_in(lines, lexicon),
        FileHabits([found.sheet for found in sheets], [*(line.text for line in legend.lines), *lines], lexicon),
        looks_of_file(raw.content, [(found.sheet, found.tables.not_data) for found in sheets], lexicon),
        _gear_letters(sheets, lexicon),
        legend,
    )


def _found(sheet: Sheet, file: str, settings: Settings, lexicon: Lexicon) -> FoundSheet:
    """One sheet with its tables, in whichever way they are found first."""
    if is_long(len(sheet.rows)) and not isinstance(sheet.rows, CodedRows):
        sheet.rows = code_rows(sheet.rows)
    rules = rules_for(file, sheet.name, settings.source)
    if not rules.columns and is_legend_sheet(sheet, file, lexicon):
        return FoundSheet(sheet, rules, as_legend(sheet))
    across = find_crosswise(sheet, lexicon) if not rules.columns and not rules.ignore else None
    tables = find_tables(sheet, lexicon, taught_headings(rules, lexicon))
    split_people(tables, sheet, file, lexicon)
    for table in tables.tables:
        settle_roles(table, sheet, lexicon)
        settle_by_contents(table, sheet, lexicon)
    may_be_diary = not has_columns(sheet, tables) and (across is None or is_of_lines(sheet))
    if may_be_diary and (open_day := unfolded(sheet, lexicon)) is not None:
        sheet, tables, across = open_day, find_tables(open_day, lexicon, {}), None
    if not tables.tables and not is_diary(sheet, lexicon):
        tables = find_without_headings(sheet, taught_headings(rules, lexicon), lexicon) or tables
    return FoundSheet(sheet, rules, tables, across)


_LEAST_DATES = 3  # in a column of dates, which then count alone


def _dates(found: FoundSheet, lexicon: Lexicon) -> list[Written]:
    """What the dates of a sheet say: of its tables, or of its days across where these say more."""
    own = dates_of(found.sheet, found.tables, lexicon)
    is_list = (
        any(table.body and table.having("date", "timestamp") for table in found.tables.tables)
        and len(own) >= _LEAST_DATES
    )
    if found.across is None or is_list or has_days_in_rows(found.sheet, found.tables, lexicon):
        return own
    return max(found.across.dates(found.sheet, lexicon), own, key=len)


def _unit_of_file(sheets: Iterable[FoundSheet], lexicon: Lexicon) -> str | None:
    """The unit that the sheets which name one agree on; a remark among the days of a diary is of its day alone."""
    told = {unit for found in sheets if (unit := told_unit(found.tables, _telling(found, lexicon))) is not None}
    return told.pop() if len(told) == 1 else None


def _telling(found: FoundSheet, lexicon: Lexicon) -> list[str]:
    """The lines of a sheet that may hold for all of it."""
    is_diary = not found.tables.tables and found.across is None
    return lines_above(found.sheet, lexicon) if is_diary else found.lines


def _letters_of_people(lines: Sequence[str], legend: Legend, lexicon: Lexicon) -> dict[str, str]:
    """Letters that stand for people, by the legend first, then by lines of any kind."""
    taken = {term.written for term in legend.terms}
    told = {letter: name for letter, name in people_by_letter(lines, lexicon).items() if letter not in taken}
    return dict(legend.people) | told


def _gear_letters(sheets: Sequence[FoundSheet], lexicon: Lexicon) -> dict[GearColumn, dict[str, str]]:
    rows = [gear_in_rows(found.sheet, found.across, lexicon) for found in sheets if found.across is not None]
    return letters_of_file([(found.sheet, found.tables) for found in sheets if found.across is None], rows, lexicon)


def context_of(
    survey: FileSurvey,
    found: FoundSheet,
    years: Told,
    settings: Settings,
    words: tuple[Lexicon, WordReader],
    choices: ChoiceBook,
    out: Yield,
    today: date,
) -> SheetContext:
    """What reading one sheet needs, with what was assumed of its file."""
    within = (settings.season.from_, settings.season.to)
    calendar = Calendar(survey.order, years.years, within, survey.is_doubted, years.turn, years.start)
    context = SheetContext(survey.file, found.sheet, settings, found.rules, *words, choices, calendar, out, today)
    context.assumptions += found.sheet.remarks
    context.legend, context.letters, context.habits = survey.legend, survey.letters, survey.habits
    context.marks, context.gear_letters = survey.marks, survey.gear_letters
    context.first_week = first_week_in([one.sheet.name for one in survey.sheets], words[0])
    context.looks = dict(survey.looks.marked.get(found.sheet.name, {}))
    if survey.looks.said:
        context.assume(survey.looks.said)
    if survey.is_order_open and survey.order != "undecided":
        context.assume(f"Dates are {survey.order}: {survey.how}.")
    for sentence in survey.legend.sentences():
        context.assume(sentence)
    say_years(context, years)
    return context
