"""Warm-ups and misses told by colour or type alone, where a legend or title says so; never without such words.

What a legend means is common practice, no published source. Colours are those of the files written here.
"""

import io
import zipfile

import pytest
from openpyxl import Workbook
from openpyxl.styles import Font, PatternFill
from openpyxl.styles.colors import Color

from preflare.reading.looks import is_called

HEAD = ["Date", "Name", "Exercise", "kg", "Reps"]
YELLOW, PALE_RED, GREY = "FFFFFF66", "FFFF9999", "FFDDDDDD"


def book(legend, style_of, own_styles=False):
    """A log of a warm-up, a work set and a miss, whose load cells are styled; legend: cells above the headings."""
    made = Workbook()
    sheet = made.active
    sheet.append(["Ada Berg 2026"])
    sheet.append(legend)
    sheet.append(HEAD)
    for load, kind in ((60, "warm_up"), (100, None), (105, "failed")):
        sheet.append(["2026-03-05", "Ada Berg", "squat", load, 5])
        style_of(sheet.cell(sheet.max_row, 4), kind)
    if own_styles:
        style_of(sheet.cell(2, 1), "warm_up")
        style_of(sheet.cell(2, 2), "failed")
    return made


def filled(cell, kind):
    if kind:
        cell.fill = PatternFill("solid", fgColor=YELLOW if kind == "warm_up" else PALE_RED)


def marks(logs):
    return [(one.load_kg, one.is_warm_up, one.is_failed) for one in logs.sets]


SEEN = [(60, True, False), (100, False, False), (105, False, True)]
PLAIN = [(load, False, False) for load in (60, 100, 105)]


@pytest.mark.parametrize(
    "legend",
    [
        ["yellow = warm-up, red = missed"],
        ["Gelb: Aufwärmen; rot: Fehlversuch"],
        ["jaune = échauffement", "rouge = raté"],
        ["calentamiento en amarillo, fallo en rojo"],
        ["giallo", "riscaldamento", "rosso", "fallita"],
        ["amarelo = aquecimento", None, "vermelho = falhou"],
        ["geel = opwarmen en rood = mislukt"],
        ["żółty = rozgrzewka, czerwony = spalone"],
        ["gult = oppvarming, rødt = bom"],
        ["gult er opvarmning og rødt er fejlet"],
        ["gult = uppvärmning, rött = missat"],
        ["warm-ups are yellow, misses red (missed)"],
    ],
)
def test_a_legend_of_colours_in_any_language(read, legend):
    logs = read({"log.xlsx": book(legend, filled)})
    assert marks(logs) == SEEN
    assert any("legend" in line for line in logs.files[0].sheets[0].assumptions)


def test_a_coloured_legend_without_words_for_colours(read):
    assert marks(read({"log.xlsx": book(["warm-up", "missed", "legend"], filled, own_styles=True)})) == SEEN


def typed(cell, kind):
    if kind:
        cell.font = Font(italic=kind == "warm_up", strike=kind == "failed")


@pytest.mark.parametrize(
    "legend", ["warm-ups in italics, crossed out = missed", "kursiv: Aufwärmen; durchgestrichen: Fehlversuch",
               "échauffement en italique, rayé = échec", "cursief = opwarmen, doorgestreept = mislukt"]
)  # fmt: skip
def test_a_legend_of_type(read, legend):
    assert marks(read({"log.xlsx": book([legend], typed)})) == SEEN


def coloured_type(cell, kind):
    if kind:
        cell.font = Font(color="FF0000FF" if kind == "warm_up" else "FFFF0000")


def test_coloured_figures_count_as_coloured_cells_do(read):
    assert marks(read({"log.xlsx": book(["blue = warm-up, red = missed"], coloured_type)})) == SEEN


def theme_coloured(cell, kind):
    if kind:  # the standard theme's accents 4 (gold) and 6 (green), made lighter
        cell.fill = PatternFill("solid", fgColor=Color(theme=7 if kind == "warm_up" else 9, tint=0.4))


def test_colours_of_the_theme_are_known(read):
    made = book(["yellow = warm-up, green = missed"], theme_coloured)
    buffer = io.BytesIO()
    made.save(buffer)
    theme = zipfile.ZipFile(buffer).read("xl/theme/theme1.xml").decode()
    assert "8064A2" in theme  # the theme that openpyxl writes: accent 4 is violet, accent 6 orange
    made = book(["purple = warm-up, orange = missed"], theme_coloured)
    assert marks(read({"log.xlsx": made})) == SEEN


def test_without_a_legend_colours_mean_nothing(read):
    assert marks(read({"log.xlsx": book(["kg x reps"], filled)})) == PLAIN


def test_a_legend_of_a_file_that_keeps_no_looks_is_said(read):
    rows = "2026-03-05,Ada Berg,squat,60,5\n2026-03-05,Ada Berg,squat,100,5\n"
    logs = read({"log.csv": "yellow = warm-up\nDate,Name,Exercise,kg,Reps\n" + rows})
    assert not any(one.is_warm_up for one in logs.sets)
    assert any("does not show" in line for line in logs.files[0].sheets[0].assumptions)


def test_rows_in_the_colour_of_totals_are_no_sets(read):
    made = book(["grey = totals"], filled)
    made.active.append([None, None, None, 265, None])
    made.active.cell(made.active.max_row, 4).fill = PatternFill("solid", fgColor=GREY)
    assert [load for load, *_ in marks(read({"log.xlsx": made}))] == [60, 100, 105]


def ods(rows):
    """An OpenDocument sheet of (text or number, style) cells; the styles are named in `rows`."""
    styles = "".join(
        f'<style:style style:name="{name}" style:family="table-cell">{inner}</style:style>'
        for name, inner in (
            ("yellow", '<style:table-cell-properties fo:background-color="#ffff66"/>'),
            ("struck", '<style:text-properties style:text-line-through-style="solid"/>'),
        )
    )
    cells = "".join("<table:table-row>" + "".join(map(_ods_cell, row)) + "</table:table-row>" for row in rows)
    spaces = " ".join(
        f'xmlns:{name}="urn:oasis:names:tc:opendocument:xmlns:{long}:1.0"'
        for name, long in (("office", "office"), ("table", "table"), ("text", "text"), ("style", "style"),
                           ("fo", "xsl-fo-compatible"))
    )  # fmt: skip
    xml = (
        f'<?xml version="1.0"?><office:document-content {spaces} office:version="1.3"><office:automatic-styles>{styles}'
        f'</office:automatic-styles><office:body><office:spreadsheet><table:table table:name="Log">{cells}'
        "</table:table></office:spreadsheet></office:body></office:document-content>"
    )
    kind = "application/vnd.oasis.opendocument.spreadsheet"
    manifest = (
        '<manifest:manifest xmlns:manifest="urn:oasis:names:tc:opendocument:xmlns:manifest:1.0">'
        f'<manifest:file-entry manifest:full-path="/" manifest:media-type="{kind}"/></manifest:manifest>'
    )
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w") as archive:
        archive.writestr("mimetype", kind)
        archive.writestr("content.xml", xml)
        archive.writestr("META-INF/manifest.xml", manifest)
    return buffer.getvalue()


def _ods_cell(cell):
    value, style = cell if isinstance(cell, tuple) else (cell, None)
    named = f' table:style-name="{style}"' if style else ""
    kind = (
        f'office:value-type="float" office:value="{value}"' if isinstance(value, int) else 'office:value-type="string"'
    )
    return f"<table:table-cell{named} {kind}><text:p>{value}</text:p></table:table-cell>"


def test_looks_of_an_open_document(read):
    day = ["2026-03-05", "Ada Berg", "squat"]
    rows = [["amarelo = aquecimento; riscado = falhou"], HEAD, [*day, (60, "yellow"), 5], [*day, 100, 5],
            [*day, (105, "struck"), 5]]  # fmt: skip
    assert marks(read({"log.ods": ods(rows)})) == SEEN


@pytest.mark.parametrize(
    ("rgb", "word"),
    [((255, 255, 0), "yellow"), ((255, 199, 206), "red"), ((255, 153, 153), "red"), ((198, 239, 206), "green"),
     ((189, 215, 238), "blue"), ((255, 192, 0), "orange"), ((255, 235, 156), "yellow"), ((217, 217, 217), "grey"),
     ((112, 48, 160), "purple")],
)  # fmt: skip
def test_colours_have_the_names_that_people_give_them(rgb, word):
    # Standard and cell-style colours of common spreadsheets, from memory.
    assert is_called(rgb, word)


@pytest.mark.parametrize(("rgb", "word"), [((255, 255, 255), "grey"), ((0, 0, 0), "red"), ((0, 176, 80), "yellow")])
def test_white_black_and_other_hues_are_not_called_so(rgb, word):
    assert not is_called(rgb, word)
