"""Every number on a page comes from findings.json, from a view, or from the wording: none is made up on the way."""

import copy
import json
import re

import pandas as pd
import pytest

from preflare.reporting import numbers
from preflare.reporting.athlete import athlete_page
from preflare.reporting.material import Material
from preflare.reporting.records import FindingBlock, Part, Table, plain
from preflare.reporting.team import team_page
from preflare.reporting.views import season_of
from preflare.reporting.words import load_words

from .invented import invented_findings, invented_views, people

WORDS = load_words("en")
NAMES = people(9)
NUMERAL = re.compile(r"\d+(?:,\d{3})*(?:\.\d+)?")


def _leaves(value):
    if isinstance(value, dict):
        for item in value.values():
            yield from _leaves(item)
    elif isinstance(value, list | tuple):
        for item in value:
            yield from _leaves(item)
    else:
        yield value


def _printed(value):
    """Every form in which the formatter may print a number."""
    yield from (numbers.whole(round(v), WORDS) for v in (value, abs(value), 100 * value, 100 * abs(value)))
    yield numbers.two_figures(abs(value), WORDS)
    yield from (numbers.decimal(abs(value), digits, WORDS) for digits in (1, 2, 3))
    yield numbers.short_decimal(abs(value), WORDS)
    yield numbers.short_decimal(abs(value) / 2, WORDS)  # half of a compared size
    yield f"{value:.1e}"


def _allowed(findings):
    """Numerals of the findings, of their words, of the language file, and of the calendar."""
    allowed = set()
    for leaf in _leaves(findings):
        if isinstance(leaf, bool) or leaf is None:
            continue
        if isinstance(leaf, int | float):
            allowed |= {numeral for form in _printed(leaf) for numeral in NUMERAL.findall(form)}
        else:
            allowed |= set(NUMERAL.findall(str(leaf)))
            allowed |= {part.lstrip("0") for part in re.findall(r"\d+", str(leaf))}
    return allowed | set(NUMERAL.findall(json.dumps(dict(WORDS.tables))))


def _texts(blocks):
    """Every text of a page's blocks as plain words."""
    for block in blocks:
        if isinstance(block, Part):
            yield block.title
            yield from _texts(block.blocks)
        elif isinstance(block, Table):
            yield from (plain(cell) for row in block.rows for cell in row)
        elif isinstance(block, FindingBlock):
            yield plain(block.sentence)
            yield from (plain(line) for line in block.small)
            yield from _texts(block.behind)
            if block.figure:
                yield block.figure.alternative
        elif hasattr(block, "items"):
            yield from (plain(item) for item in block.items)
        elif hasattr(block, "alternative"):
            yield block.alternative
            yield from _texts([block.table] if block.table else [])
        elif hasattr(block, "facts"):
            yield plain(block.facts)
        else:
            yield plain(block.text)


def _counted_by_check(findings):
    """For how many findings each check was passed, and of how many it was asked, counted again from the findings."""
    asked = [(c["name"], c["outcome"]) for f in findings["findings"] for c in f["checks"]]
    for name in {name for name, _ in asked}:
        yield str(asked.count((name, "passed")))
        yield str(sum(one == name for one, _ in asked))


def _page(findings):
    views = invented_views(NAMES)
    return team_page(Material(findings, views, WORDS, season_of(findings, views), {name: name for name in NAMES}))


@pytest.fixture(scope="module")
def findings():
    return invented_findings(NAMES)


@pytest.fixture(scope="module")
def page(findings):
    return _page(findings)


def test_every_numeral_of_the_team_page_is_one_of_its_sources(findings, page):
    allowed = _allowed(findings)
    response = findings["logs"]["response"]
    outcomes = [[c["outcome"] for c in f["checks"]] for f in findings["findings"]]
    counted = {
        numbers.whole(response["sessions"] - response["reported"], WORDS),  # squat sessions that nobody reported on
        str(sum(len(a["flare_ups"]) for a in findings["athletes"])),
        *(str(o.count("passed")) for o in outcomes),
        *(str(len(o)) for o in outcomes),
        *_counted_by_check(findings),
    }
    # These sections count rows of the store's views; test_pages.py counts them again.
    from_views = {"trust", "changes", "who"}
    unknown = {}
    for section in page.sections:
        if section.id in from_views:
            continue
        for text in _texts(section.blocks):
            for numeral in NUMERAL.findall(text):
                if numeral not in allowed | counted:
                    unknown.setdefault(section.id, []).append((numeral, text[:80]))
    assert unknown == {}
    first_screen = [plain(text) for line in page.headlines for text in (line.sentence, *line.lines)]
    first_screen += [plain(page.facts), plain(page.now)]
    counted |= {str(sum(not a["flare_ups"][-1]["over"] for a in findings["athletes"]))}
    assert not [n for text in first_screen for n in NUMERAL.findall(text) if n not in allowed | counted]


@pytest.mark.parametrize(
    ("column", "value", "printed"),
    [
        ("sessions_before", 17, "17"),
        ("sessions_usual", 83, "83"),
        ("sets_before", 33.27, "33.3"),
        ("intensity_usual", 66.61, "66.6"),
        ("curls_usual", 0.0, "0.0"),
        ("safety_before", 11, "11 of 12"),
        ("safety_usual", 64, "64 of 71"),
    ],
)
def test_a_number_changed_in_the_view_changes_in_the_table_of_flare_ups(findings, column, value, printed):
    views = invented_views(NAMES)
    athlete, table = findings["athletes"][0], views["flare_up_before"]
    rows = table["athlete"].eq(athlete["name"]) & (table["number"].eq(1) | column.endswith("usual"))
    changed = {**views, "flare_up_before": table.assign(**{column: table[column].mask(rows, value)})}
    before, after = (
        athlete_page(athlete, Material(findings, v, WORDS, season_of(findings, v), {})) for v in (views, changed)
    )
    was, now = (next(s for s in p.sections if s.id == "flares").blocks[0].rows for p in (before, after))
    row = 0 if column.endswith("usual") else 1
    assert printed in [plain(cell) for cell in now[row]]
    assert printed not in [plain(cell) for cell in was[row]]


@pytest.mark.parametrize(
    ("part", "field", "value", "printed"),
    [
        ("risks", "to_per_100", 61.4, "61"),
        ("risks", "from_high", 43.6, "44"),
        ("effect", "per_100", -37.2, "37 fewer of 100"),
        ("effect", "odds_ratio", 4.56, "4.6"),
        ("risks", "raw_per_100", 29.3, "29 more of 100"),
        ("counts", "reported", 7654, "7,654"),
        ("counts", "contributing", 13, "13 trained both ways"),
    ],
)
def test_a_number_changed_in_the_findings_changes_on_the_page(findings, part, field, value, printed):
    changed = copy.deepcopy(findings)
    safety = next(f for f in changed["findings"] if f["id"] == "safety")
    safety[part][field] = value
    from preflare.reporting.finding import finding_block

    material = Material(changed, {}, WORDS, None)
    block = finding_block(safety, material)
    words = " ".join([*map(plain, block.small), block.figure.alternative])
    assert printed in words


def test_the_tables_hold_the_findings_unrounded(findings, tmp_path):
    from preflare.reporting.tables import write_tables

    views = invented_views(NAMES)
    files = {
        path.stem: pd.read_csv(path) for path in write_tables(findings, views, tmp_path) if path.stat().st_size > 2
    }
    table = files["findings"].set_index("id")
    for finding in findings["findings"]:
        for part in ("effect", "risks", "counts"):
            for field, value in finding[part].items():
                shown = table.loc[finding["id"], f"{part}_{field}"]
                assert (pd.isna(shown) and value is None) or shown == value
    assert len(files["response_week"]) == len(views["response_week"])
    assert files["weekly_pain"]["reporting"].tolist() == [w["reporting"] for w in findings["surveillance"]["weekly"]]


def test_a_cell_that_a_spreadsheet_would_run_is_only_text(findings, tmp_path):
    from preflare.reporting.tables import write_tables

    views = invented_views(NAMES)
    views["rejected_row"] = views["rejected_row"].assign(value="=HYPERLINK(1)")
    write_tables(findings, views, tmp_path)
    assert "'=HYPERLINK(1)" in (tmp_path / "tables" / "rejected_row.csv").read_text(encoding="utf-8")
