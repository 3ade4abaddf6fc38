"""read_logs: every file, sheet and table, then people joined, implausible and repeated rows set aside, rows counted."""

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from datetime import date
from pathlib import Path

from preflare.reading.blank_loads import settle_blank_loads
from preflare.reading.by_content import say_unheaded
from preflare.reading.coded import CodedRows
from preflare.reading.context import SheetContext, Yield, rules_for
from preflare.reading.crosswise import Crosswise
from preflare.reading.crosswise_days import has_days_side_by_side, names_lifts_at_left
from preflare.reading.crosswise_rows import read_crosswise
from preflare.reading.days_in_order import settle_days
from preflare.reading.diary import is_diary
from preflare.reading.diary_rows import read_diary
from preflare.reading.file_survey import context_of, survey_file
from preflare.reading.first_warm_ups import mark_first_sets
from preflare.reading.formats import RawFile, find_files, read_file
from preflare.reading.gear_below import settle_gear_below
from preflare.reading.gear_on_lines import settle_gear_on_lines
from preflare.reading.grid import is_grid, read_grid
from preflare.reading.headless import entry_of_guess, entry_of_table
from preflare.reading.judge import assemble
from preflare.reading.legend import Legend
from preflare.reading.legend_defaults import LastTime, fill_defaults
from preflare.reading.legend_files import legend_of, lines_by_folder, words_of_file
from preflare.reading.legend_series import legends_of_series
from preflare.reading.lexicon import Lexicon, make_lexicon
from preflare.reading.lifts_of_titles import titles_differ
from preflare.reading.owners import person_of_sheet
from preflare.reading.pain_grids import find_pain_grids, read_pain_grids
from preflare.reading.people_above import settle_people_above
from preflare.reading.plain import read_plain
from preflare.reading.pounds import look_like_pounds
from preflare.reading.ratings import is_form
from preflare.reading.records import read_table
from preflare.reading.rivals import read_by_best
from preflare.reading.roles import in_words, taught_headings
from preflare.reading.rosters import is_list_of_members
from preflare.reading.rows import FileReading, Logs, RejectedRow, SetRow, SheetReading
from preflare.reading.settled_roles import SHORTHAND
from preflare.reading.sheet_dates import (
    OtherDates,
    YearsOpenError,
    doubt_years,
    lines_above,
    other_dates,
)
from preflare.reading.stacked import settle_stacks
from preflare.reading.stand_ins import stand_in
from preflare.reading.survey import (
    all_titles,
    columns_taken,
    exercise_of_sheet,
    language_of,
    layout_of,
    rows_name_lifts,
    told_unit,
)
from preflare.reading.tables import SheetTables, Table
from preflare.reading.text import Cell
from preflare.reading.usual_sides import fill_sides
from preflare.reading.warm_ups import settle_warm_ups
from preflare.reading.weekday_letters import with_weekday_letters
from preflare.reading.words import ChoiceBook, WordReader
from preflare.reading.workbook import Sheet
from preflare.settings import Settings


def _silent(message: str) -> None:
    return None


def read_logs(
    paths: Sequence[Path],
    settings: Settings | None = None,
    progress: Callable[[str], None] = _silent,
    today: date | None = None,
) -> Logs:
    """Read files and folders into tidy rows.

    paths: files or folders (walked). settings: season.toml, defaults when None. progress: called with one plain line a
    file. today: rows dated later are set aside; the machine's date when None. Raises PreflareError when a path is
    missing or nothing there could be a log; anything else that is wrong with a file is told in the result.
    """
    settings = settings or Settings()
    lexicon = make_lexicon(settings.words)
    for source in settings.source:
        taught_headings(source, lexicon)  # a misspelt role is said before any file is read
    words, choices, out = WordReader(lexicon), ChoiceBook(), Yield()
    files: list[FileReading] = []
    drafts: dict[tuple[str, str], SheetReading] = {}
    waiting: list[RawFile] = []  # until the dates of the other files are known
    today = today or date.today()
    to_read = find_files(paths)
    near, series = lines_by_folder(to_read, lexicon), legends_of_series(to_read, words)

    def read(raw: RawFile, others: OtherDates) -> None:
        of_file = with_weekday_letters(raw.sheets, words)
        legend = legend_of(raw, near, series, of_file)
        own = words_of_file(legend, of_file)
        for sheet, reading in _read_sheets(raw, settings, *own, legend, choices, out, others):
            drafts[raw.name, sheet.name] = reading

    for path, name in to_read:
        progress(f"reading {name}")
        if rules_for(name, "", settings.source).ignore:
            files.append(FileReading(name, "", "unknown", None, f"{name}: season.toml says to ignore it."))
            continue
        raw = read_file(path, name)
        files.append(FileReading(raw.name, raw.sha256, raw.format, raw.encoding, raw.refused))
        try:
            read(raw, OtherDates((), len(to_read) > 1, today))
        except YearsOpenError:
            waiting.append(raw)
    for raw in waiting:
        read(raw, OtherDates(other_dates(out), False, today))
    progress("joining people and setting aside what cannot be")
    return assemble(files, drafts, out, choices, settings)


def _read_sheets(
    raw: RawFile,
    settings: Settings,
    lexicon: Lexicon,
    words: WordReader,
    legend: Legend,
    choices: ChoiceBook,
    out: Yield,
    others: OtherDates,
) -> Iterable[tuple[Sheet, SheetReading]]:
    """Read the sheets of a file, after they were looked over together."""
    last = LastTime()
    survey = survey_file(raw, settings, lexicon, legend, out, others)
    for found, years in zip(survey.sheets, survey.years, strict=True):
        context = context_of(survey, found, years, settings, (lexicon, words), choices, out, others.today)
        tables = found.tables
        n_before, n_pain = len(out.sets), len(out.pain)
        if found.across is not None:
            tables = _read_rivals(context, tables, found.across, survey.unit)
        else:
            _read_sheet(context, tables, survey.unit)
        mark_first_sets(context, n_before)
        fill_defaults(context, n_before, last, [] if context.is_diary else all_titles(tables))
        fill_sides(context, n_pain)
        doubt_years(context, years, out.sets[n_before:])
        _remember(context)
        is_unit_open = context.units_met == {"kg"} or context.has_open_units
        if context.unit is None and is_unit_open and not _unit_written(tables):
            _doubt_unit(context, out.sets[n_before:])
        yield found.sheet, _reading(context, tables, survey.order_told())


def _read_rivals(context: SheetContext, tables: SheetTables, across: Crosswise, file_unit: str | None) -> SheetTables:
    """Read a sheet that has days or people across, by its tables and crosswise; answers those of the better way."""

    def by_tables(apart: SheetContext) -> None:
        _read_sheet(apart, tables, file_unit)

    def crosswise(apart: SheetContext) -> None:
        titles = [*tables.titles, *across.titles]
        for said in across.assumed:
            apart.assume(said)
        apart.unit = apart.rules.unit or told_unit(across.tables(), titles) or file_unit
        if not any(group.above.person for block in across.blocks for group in block.groups):
            person_of_sheet(apart, titles)
        if names_lifts_at_left(across, apart.sheet, apart.lexicon):
            apart.exercise = None
        elif (exercise := exercise_of_sheet(apart, titles)) is not None:
            apart.exercise = exercise
        read_crosswise(apart, across)

    if grids := find_pain_grids(context.sheet, context.lexicon):
        ways = (by_tables, crosswise, lambda apart: read_pain_grids(apart, grids))
        return (tables, across.tables(), across.tables())[read_by_best(context, ways)]
    if not tables.tables and has_days_side_by_side(across, context.sheet):
        crosswise(context)  # as a diary, the work of each day would be that of the first
        return across.tables()
    return (tables, across.tables())[read_by_best(context, (by_tables, crosswise))]


def _read_sheet(context: SheetContext, tables: SheetTables, file_unit: str | None) -> None:
    """Read one sheet. file_unit: the unit that the other sheets of the file name, when they agree."""
    sheet = context.sheet
    if context.rules.ignore:
        for row, cells in enumerate(sheet.rows):
            if any(cell is not None for cell in cells):
                context.not_data(row, "season.toml says to ignore this sheet")
        return
    for row, what in tables.not_data.items():
        context.not_data(row, what)
    if not tables.tables and not is_diary(sheet, context.lexicon):
        _reject_without_headings(context, tables)
        return
    if not all(table.header_rows for table in tables.tables):
        _say_without_headings(context, tables.tables[0])
    titles = all_titles(tables) if tables.tables else lines_above(sheet, context.lexicon)
    context.unit = context.rules.unit or told_unit(tables, titles) or file_unit
    settle_people_above(context, tables)
    if (
        not all(table.person or table.having("person", "first_name", "last_name") for table in tables.tables)
        or not tables.tables
    ):
        person_of_sheet(context, titles)
    if not rows_name_lifts(sheet, tables, context.lexicon):
        context.exercise = _exercise_of_all(context, tables, titles)
    for table in tables.tables:
        settle_stacks(context, table)
        stand_in(context, table)
        settle_days(context, table)
        settle_warm_ups(context, table)
        settle_gear_below(context, table)
        settle_gear_on_lines(context, table)
        settle_blank_loads(context, table)
        say_unheaded(context, table)
    if _read_fast(context, tables):
        return
    if not tables.tables:
        context.is_diary = True
        read_diary(context)
    for table in tables.tables:
        if is_list_of_members(table):
            _members(context, table)
        elif is_grid(table):
            read_grid(context, table)
        else:
            read_table(context, table)


def _exercise_of_all(context: SheetContext, tables: SheetTables, titles: list[str]) -> str | None:
    """The lift that the sheet's name, its titles or its file's name give to rows that name none."""
    sheet = context.sheet
    named = context.words.exercise(sheet.name) if sheet.name else None
    if named is not None and named.exercise != "unknown":
        return sheet.name
    if not tables.tables or all(table.having("exercise") for table in tables.tables):
        return context.exercise
    titles = [] if titles_differ(tables, context.words) else titles
    return exercise_of_sheet(context, titles) or context.exercise


def _members(context: SheetContext, table: Table) -> None:
    """A list of members is no data; a row of it that holds sets is set aside."""
    for row in table.body:
        texts = [cell for cell in context.sheet.rows[row] if isinstance(cell, str)]
        if any(SHORTHAND.search(text) for text in texts):
            remedy = "put headings such as Date, Exercise, Sets above what was done"
            context.reject_row(row, "it holds sets in a table that looks like a list of people", remedy)
        else:
            context.not_data(row, "a list of members")


def _reject_without_headings(context: SheetContext, tables: SheetTables) -> None:
    """Nothing is read from a sheet that shows no table; its rows are set aside with the entry that would name it."""
    if not context.sheet.rows or "legend" in tables.not_data.values():
        return
    context.assume("No headings of a log were found on this sheet, so nothing was read from it.")
    line = entry_of_guess(context.file, context.sheet, context.lexicon)
    remedy = f"put headings such as Date, Name, Exercise, Load, Reps above the rows, or name the columns: {line}"
    for row, cells in enumerate(context.sheet.rows):
        if any(cell is not None for cell in cells) and row not in tables.not_data:
            context.reject_row(row, "no headings of a log were found above it", remedy)


def _say_without_headings(context: SheetContext, table: Table) -> None:
    """Say that the columns were told by what they hold, unless season.toml names them."""
    if context.rules.columns:
        return
    told = ", ".join(f"{column.written} ({in_words(column.role, None)})" for column in table.columns if column.heading)
    context.assume(f"There are no headings that the program knows; the columns were told by what they hold: {told}.")
    reason = f"no known headings; the columns were told by what they hold: {told}; all rows were read so"
    remedy = f"check it, and say so in season.toml: {entry_of_table(context.file, table)}"
    context.reject_cell(table.body[0], 0, context.cell(table.body[0], 0), reason, remedy)


def _read_fast(context: SheetContext, tables: SheetTables) -> bool:
    """Read a sheet whose one table is a long list of sets, if it is one. Any other is given back row by row."""
    if not isinstance(context.sheet.rows, CodedRows):
        return False
    needs_rows = (
        context.stand_ins or context.stacks or context.looks or context.legend.is_carried or context.is_gear_carried
    )
    is_one = len(tables.tables) == 1 and not needs_rows
    if is_one and not is_grid(tables.tables[0]) and not is_form(tables.tables[0]):
        plain = read_plain(context, tables.tables[0])
        if plain is not None:
            context.out.plain.append(plain)
            return True
    context.sheet.rows = list(context.sheet.rows)
    return False


def _remember(context: SheetContext) -> None:
    """Keep the text of every row that is not blank, save of the rows that a frame keeps."""
    rows: Iterable[tuple[int, list[Cell]]] = enumerate(context.sheet.rows)
    if context.out.plain and context.out.plain[-1].source == (context.file, context.sheet.name):
        rows = context.out.plain[-1].other_rows()
    for row, cells in rows:
        if any(cell is not None for cell in cells):
            context.out.read[context.key(row)] = [*context.out.read.get(context.key(row), []), *cells]


def _doubt_unit(context: SheetContext, sets: list[SetRow]) -> None:
    """Say that loads without a unit were read as kg, and where they stand when they look like pounds."""
    seen = Counter((one.exercise, one.load_kg) for one in sets if one.load_kg)
    if context.out.plain and context.out.plain[-1].source == (context.file, context.sheet.name):
        counted = context.out.plain[-1].sets.group_by("exercise", "load_kg").len().drop_nulls().rows()
        seen.update({(exercise, load): n for exercise, load, n in counted})
    telling = look_like_pounds(seen)
    if not telling:
        context.assume("Loads without a unit were read as kg.")
        return
    shown = ", ".join(format(load, "g") for load in sorted(telling))
    context.assume(f"Loads without a unit were read as kg, but they look like pounds ({shown}).")
    place = next(one.place for one in sets if one.load_kg in telling)
    reason = f"the loads of this sheet have no unit and look like pounds ({shown}); all were stored as kg"
    remedy = f'say which in season.toml and import again: [[source]] file = "{context.file}", unit = "lb" (or "kg")'
    context.out.rejected.append(RejectedRow(place, shown, reason, remedy, False))


def _reading(context: SheetContext, tables: SheetTables, order: str) -> SheetReading:
    unit = (
        " and ".join(sorted(context.units_met)) + (" by cell" if len(context.units_met) > 1 else "")
        if context.units_met
        else "none"
    )
    unknown = [column.written for table in tables.tables for column in table.columns if column.role == "unknown"]
    for written in unknown:
        context.choose("column", written, None, "not known", context.lexicon.heading.nearest(written))
    n_open = len(unknown)
    for column in (
        column
        for table in tables.tables
        for column in table.columns
        if column.role == "note" and column.heading is None
    ):
        context.assume(f'The heading "{column.written}" is not known; its column was read as remarks.')
    if n_open:
        context.assume(
            f"{n_open} {'heading is' if n_open == 1 else 'headings are'} not known; nothing was read from there."
        )
    return SheetReading(
        context.file,
        context.sheet.name,
        layout_of(tables, "diary" if context.is_diary else "no table of a log"),
        columns_taken(tables),
        order,
        unit,
        language_of(context, tables),
        context.sheet.is_hidden,
        0,
        0,
        0,
        0,
        tuple(context.assumptions),
    )


def _unit_written(tables: SheetTables) -> bool:
    return any(
        column.heading and column.heading.unit in {"kg", "lb"} for table in tables.tables for column in table.columns
    )
