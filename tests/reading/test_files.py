"""Files as they come: encodings and delimiters, workbooks of several kinds, and files that cannot be read."""

import base64
import io
import zipfile
import zlib
from datetime import date, datetime

import pytest
import xlsxwriter
from openpyxl import Workbook
from openpyxl.utils.datetime import CALENDAR_MAC_1904

from preflare.errors import PreflareError
from preflare.reading import read_logs
from preflare.reading.delimited import find_delimiter, read_delimited
from preflare.reading.old_workbook import error_cells_of_xls

ROW = "Date{0}Name{0}Exercise{0}Load{0}Reps\n2026-01-05{0}Søren Bråten{0}squat{0}100{0}5\n"
HEADINGS = ["Date", "Name", "Exercise", "Load", "Reps"]
SET = [datetime(2026, 1, 5), "Ada Berg", "squat", 100, 5]


def book_of(*rows):
    book = Workbook()
    for row in rows:
        book.active.append(row)
    return book


def saved(book):
    stream = io.BytesIO()
    book.save(stream)
    return stream.getvalue()


def zipped(change):
    """A workbook whose parts `change(name, content)` may rewrite."""
    source = zipfile.ZipFile(io.BytesIO(saved(book_of(HEADINGS, SET))))
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w") as target:
        for name in source.namelist():
            target.writestr(name, change(name, source.read(name)))
    return stream.getvalue()


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-be", "cp1252", "mac-roman"])
def test_encodings(read, encoding):
    text = ROW.format(";") + "2026-01-06;Søren Bråten;knebøy;100;5\n2026-01-07;Åse Ødegård;knebøy med pause;90;5\n" * 4
    content = text.encode(encoding) if encoding != "utf-16-be" else b"\xfe\xff" + text.encode(encoding)
    logs = read({"log.csv": content})
    assert {s.athlete for s in logs.sets} == {"Søren Bråten", "Åse Ødegård"}


@pytest.mark.parametrize("delimiter", [",", ";", "\t", "|"])
def test_delimiters(read, delimiter):
    assert len(read({"log.csv": ROW.format(delimiter)}).sets) == 1


def test_a_first_line_that_names_the_delimiter_is_obeyed(read):
    logs = read({"log.csv": "sep=;\n" + ROW.format(";")})
    assert [s.place.row for s in logs.sets] == [3]


def test_commas_inside_cells_do_not_win():
    assert find_delimiter("work;note\n120x5, 130x3, 140x1;a, b, c\n110x5, 120x3;d\n") == ";"


def test_quotes_and_line_breaks_in_cells_follow_rfc_4180():
    # RFC 4180, section 2, rules 5 to 7: quoted fields may hold line breaks, commas, and doubled quotes.
    table = read_delimited(b'a,b\r\n"1,5","x\r\ny"\r\n"he said ""no""",z\r\n')
    assert table.rows == [["a", "b"], ["1,5", "x\r\ny"], ['he said "no"', "z"]]
    assert table.line_numbers == [1, 2, 4]


def test_a_quotation_mark_that_is_never_closed_swallows_nothing(read):
    rows = "".join(f"2026-01-{d:02},Ada Berg,squat,{100 + d},5,\n" for d in range(1, 29))
    logs = read({"log.csv": 'Date,Name,Exercise,Load,Reps,Notes\n2026-02-01,Ada Berg,squat,100,5,"open\n' + rows})
    assert len(logs.sets) == 29
    assert any("quotation mark" in text for text in logs.files[0].sheets[0].assumptions)


@pytest.mark.parametrize("epoch_1904", [False, True])
def test_dates_of_both_systems(read, epoch_1904):
    # ECMA-376 part 1, 18.17.4.1: the 1900 and the 1904 date system; openpyxl writes either.
    book = book_of(HEADINGS, SET)
    if epoch_1904:
        book.epoch = CALENDAR_MAC_1904
    assert [s.date for s in read({"log.xlsx": book}).sets] == [date(2026, 1, 5)]


def test_the_leap_day_that_never_was_is_no_training_day(read):
    # Serial 60 of the 1900 system is the 29 February 1900 that did not exist (ECMA-376 part 1, 18.17.4.1).
    book = book_of(HEADINGS, [60, "Ada Berg", "squat", 100, 5])
    book.active["A2"].number_format = "yyyy-mm-dd"
    book.active.append(SET)
    book.active.append([datetime(2026, 1, 6), *SET[1:]])
    book.active.append([datetime(2026, 1, 7), *SET[1:]])
    assert [s.date.year for s in read({"log.xlsx": book}).sets] == [2026] * 3


def test_an_error_cell_is_set_aside_not_missing(read):
    def change(name, content):
        return content.replace(b'<c r="D2" t="n"><v>100</v></c>', b'<c r="D2" t="e"><v>#DIV/0!</v></c>')

    logs = read({"log.xlsx": zipped(change)})
    assert [(s.load_kg, s.reps) for s in logs.sets] == [(None, 5)]
    assert (logs.rejected[0].value, logs.rejected[0].place.column) == ("#DIV/0!", "D")


# A workbook of three squats made with xlwt 1.3 (from the Python package index), the second load an error: the stream is
# shorter than 4096 bytes and lies in the small sectors. A second sheet holds #N/A in C6.
OLD_WORKBOOK = (
    r"c-rk)Pe@cj82`=t<F5Z#Q$Yh+giK9?3Zjc{ie`sa%!?&Kt@_v&OKo=}>rj^MF^D=9T?9LHvAXm>s9T4?C@2U5tz)O4po9AQ=6kcc"
    r"Ya6&w!p8eO=9`&szWL4f-h4A}-g`4wHa~s8W&vx^1|7?GKJrp@f>M66;sdqYwk#%dFD2VWP9fh*6Pah?Y4K~1oI^R^3(#=Scu5lY"
    r"Oz8;5(K9w``8N<9>_bRMA6kV$v8Uk{r4m%LU*#-^SZ-o@mu;W1+{>CPEL+KTUJPI^(9^U>#qlAnj@wE|3OwXKA6c^lm3SrN_`+4;"
    r"*qUgMMnWfYtfAH@!VG9iyRA_xD(j`VjRN2>p(Pk>>Fk_G1x@!1e%OBCdvaaB@Vokr)eDgRXS&|=2fddjajpKkW&o40j|myf2^3<#"
    r"AzO4D7z-y*iub&UdoXauio~thB7!JV+cg<>hT;}wJ)x5pX}Tt?=ujkP6$1TMBz!#XZx{(TQhT2@9;5d5;gG+>iiS-fcItE}PEj{e"
    r"Am0nTkNDE|kz!t5MI?vG3t2AXHRhwC7w>#~8yxHn9A(WUJL9}zw#eIojf=7ebuQr+z9R~5pox2IV|j^LH*>j$Wd+$#Uf)}(3j3zm"
    r"<}$a|(>S{r?*dy>$_-Rbd_DN6Ht{9UNafk?g>x0N9|F^;qc`3#^_SNannkm?c|+oHAejrb7ky$`{oB6e)qKi#TfIh0u_RX_p^T+d"
    r"lTSyi)HL<1oSIHGeWhkl%}~r@4fA=efOX~AKBuw0U}jVG7R)SX=Q-I3X1*q*CsoWWIkgO&&YrtdacXIt+6t$sd8sTpJ;Lc_C}zp4"
    r"XW-SDcemoz(|GkXUv=hvlHzNdR*nbKG1~7}u@TYeoQm`ujz*C&8a>Lw<hxt7kn?KtY%~de>d5reUAS=J!i5VLxdFjvP3J6Qs1tS`"
    r"e=Ruwb(SbCyT3{PTl8U!t~h;Cc43tAD9&aTKUFYAl1r?!Px61EL_dul#Rvx3kCCk7mrlDP^?ugf(f9Y3P`2YQXXEET9{(4uejLs"
)


def old_workbook():
    return zlib.decompress(base64.b85decode(OLD_WORKBOOK))


def test_an_error_cell_of_an_old_workbook_is_set_aside_not_missing(read):
    logs = read({"log.xls": old_workbook()})
    assert [(s.date.day, s.load_kg, s.reps) for s in logs.sets] == [(5, 100, 5), (6, None, 5), (7, 110, 5)]
    assert [(r.value, r.place.sheet, r.place.row, r.place.column) for r in logs.rejected][:1] == [
        ("#DIV/0!", "Log", 3, "D")
    ]


def test_a_damaged_old_workbook_is_refused_in_words_or_read_without_its_errors():
    content = old_workbook()
    assert set(error_cells_of_xls(content)) == {"Log", "Zweites"}
    for length in range(0, len(content), 97):
        assert set(error_cells_of_xls(content[:length])) <= {"Log", "Zweites"}


def test_a_formula_s_stored_value_is_read(read, tmp_path):
    path = tmp_path / "logs" / "log.xlsx"
    path.parent.mkdir()
    book = xlsxwriter.Workbook(path)
    sheet = book.add_worksheet()
    sheet.write_row(0, 0, HEADINGS)
    sheet.write_row(1, 0, ["2026-01-05", "Ada Berg", "squat", 0, 5])
    sheet.write_formula(1, 3, "=50*2", None, 100)
    book.close()
    assert [s.load_kg for s in read({}).sets] == [100]


def test_hidden_sheets_and_rows_are_read_and_said(read):
    book = book_of(HEADINGS, SET, [datetime(2026, 1, 6), *SET[1:]])
    book.active.row_dimensions[3].hidden = True
    book.create_sheet("Notes")
    book.active.sheet_state = "hidden"
    logs = read({"log.xlsx": book})
    (sheet,) = [sheet for sheet in logs.files[0].sheets if sheet.rows_read]
    assert sheet.is_hidden
    assert len(logs.sets) == 2
    assert any("hidden rows" in text for text in sheet.assumptions)


def test_one_stray_cell_in_the_far_corner_is_refused_not_loaded(read):
    # XFD1048576 is the last cell of a sheet (ECMA-376: 16,384 columns, 1,048,576 rows).
    book = book_of(HEADINGS, SET)
    book.active["XFD1048576"] = "stray"
    logs = read({"log.xlsx": book})
    assert logs.sets == []
    assert "stray cell" in str(logs.files[0].refused)


def test_a_truncated_workbook_is_refused_in_words(read):
    content = saved(book_of(HEADINGS, SET))
    for length in (10, 200, len(content) // 2, len(content) - 30):
        (file,) = read({"log.xlsx": content[:length]}).files
        assert file.refused
        assert "log.xlsx" in file.refused


def test_a_workbook_with_a_broken_sheet_is_refused_in_words(read):
    (file,) = read({"log.xlsx": zipped(lambda name, part: part[: len(part) // 2] if "sheet1" in name else part)}).files
    assert file.refused or file.sheets[0].rows_read <= 2


def test_a_text_file_with_a_workbook_s_name_is_refused(read):
    (file,) = read({"log.xlsx": b"Date,Name\n"}).files
    assert file.refused


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("photo.png", b"\x89PNG\r\n\x1a\n" + bytes(20)),
        ("photo.csv", b"\xff\xd8\xff\xe0" + bytes(20)),
        ("plan.pdf", b"%PDF-1.7"),
        ("log.docx9", b"hello"),
        ("empty.csv", b""),
        ("blank.csv", b"\n\n  \n"),
    ],
)
def test_what_is_no_log_is_refused_by_name(read, name, content):
    (file,) = read({name: content}).files
    assert name in str(file.refused)


def test_settings_readme_and_hidden_files_are_no_logs(read):
    logs = read(
        {"log.csv": ROW.format(","), "season.toml": "", "README.md": "x", ".hidden.csv": "x", "~$log.xlsx": "x"}
    )
    assert [file.file for file in logs.files] == ["log.csv"]


def test_a_missing_path_and_an_empty_folder_are_said_plainly(tmp_path):
    with pytest.raises(PreflareError, match=r"no such file or folder"):
        read_logs([tmp_path / "nowhere"])
    with pytest.raises(PreflareError, match=r"no logs in it"):
        read_logs([tmp_path])


def test_sub_folders_are_walked_and_named_with_forward_slashes(read):
    assert [file.file for file in read({"block 1/log.csv": ROW.format(",")}).files] == ["block 1/log.csv"]


def ods(*cells):
    """A minimal ODS (ISO/IEC 26300): headings and one row of the given cells as XML."""
    names = "".join(
        f'<table:table-cell office:value-type="string"><text:p>{h}</text:p></table:table-cell>' for h in HEADINGS
    )
    spaces = " ".join(
        f'xmlns:{prefix}="urn:oasis:names:tc:opendocument:xmlns:{prefix}:1.0"' for prefix in ("office", "table", "text")
    )
    body = f"<table:table-row>{names}</table:table-row><table:table-row>{''.join(cells)}</table:table-row>"
    xml = (
        f'<?xml version="1.0" encoding="UTF-8"?><office:document-content {spaces} '
        'xmlns:calcext="urn:org:documentfoundation:names:experimental:calc:xmlns:calcext:1.0">'
        f'<office:body><office:spreadsheet><table:table table:name="Log">{body}</table:table>'
        "</office:spreadsheet></office:body></office:document-content>"
    )
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w") as archive:
        archive.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
        archive.writestr("content.xml", xml)
        archive.writestr("META-INF/manifest.xml", "<manifest/>")
    return stream.getvalue()


def ods_text(value):
    return f'<table:table-cell office:value-type="string"><text:p>{value}</text:p></table:table-cell>'


DAY = (
    '<table:table-cell office:value-type="date" office:date-value="2026-01-05">'
    "<text:p>05/01/26</text:p></table:table-cell>"
)
LOAD = '<table:table-cell office:value-type="float" office:value="100"><text:p>100</text:p></table:table-cell>'
REPS = '<table:table-cell office:value-type="float" office:value="5"><text:p>5</text:p></table:table-cell>'
ERROR = (
    '<table:table-cell office:value-type="string" calcext:value-type="error">'
    "<text:p>#DIV/0!</text:p></table:table-cell>"
)


def test_an_open_document_spreadsheet(read):
    logs = read({"log.ods": ods(DAY, ods_text("Ada Berg"), ods_text("squat"), LOAD, REPS)})
    assert [(s.date, s.load_kg, s.reps) for s in logs.sets] == [(date(2026, 1, 5), 100, 5)]
    assert logs.files[0].format == "ods"


def test_an_error_cell_of_an_open_document_is_set_aside_too(read):
    logs = read({"log.ods": ods(DAY, ods_text("Ada Berg"), ods_text("squat"), ERROR, REPS)})
    assert [(s.load_kg, s.reps) for s in logs.sets] == [(None, 5)]
    assert [(r.value, r.place.column) for r in logs.rejected] == [("#DIV/0!", "D")]
