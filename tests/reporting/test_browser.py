"""The pages in a real browser: widths, zoom, first screen, print, keyboard, and the automated accessibility audit."""

import re
import subprocess
from functools import cache
from pathlib import Path

import pytest

from preflare.resources import resource

from .audit import audited, headless, main

pytestmark = pytest.mark.browser
SIZES = {"desktop": (1280, 800), "phone": (390, 844), "200 % zoom of 1280": (640, 400)}
PAGES = (
    "team.html",
    "logs.html",
    "athletes/agnes-holt.html",
    "athletes/bilal-holt.html",
    "athletes/script-alert-1-script.html",
)


@pytest.fixture(scope="module")
def browser(chromium):
    with headless(chromium) as found:
        yield found


@pytest.fixture(scope="module")
def opened(browser, report):
    """Opens a page of the report at a size, without any network; fails on an error of its script or a lost request."""
    contexts = []

    def open_page(name, size, **options):
        context = browser.new_context(viewport={"width": size[0], "height": size[1]}, offline=True, **options)
        contexts.append(context)
        page = context.new_page()
        problems = []
        page.on("pageerror", lambda error: problems.append(str(error)))
        page.on("requestfailed", lambda request: problems.append(request.url))
        page.on("dialog", lambda dialog: problems.append("a dialog opened"))
        page.goto((report / name).as_uri())
        assert problems == []
        return page

    yield open_page
    for context in contexts:
        context.close()


@pytest.fixture(scope="module")
def seen(opened):
    """Each page at each size, opened once for all tests that only look at it."""
    return cache(opened)


@pytest.mark.parametrize("size", SIZES.values(), ids=SIZES)
@pytest.mark.parametrize("name", PAGES)
def test_no_page_scrolls_sideways(seen, name, size):
    page = seen(name, size)
    page.evaluate("for (const d of document.querySelectorAll('details')) d.open = true")
    assert page.evaluate("document.documentElement.scrollWidth") <= size[0]


@pytest.mark.parametrize("size", SIZES.values(), ids=SIZES)
@pytest.mark.parametrize("name", PAGES)
def test_the_caution_stands_on_the_first_screen(seen, name, size):
    page = seen(name, size)
    box = page.locator("header p.caution").bounding_box()
    assert box["y"] >= 0
    assert box["y"] + box["height"] <= size[1]


@pytest.mark.parametrize("size", [SIZES["desktop"], SIZES["phone"]], ids=["desktop", "phone"])
def test_the_short_answer_stands_on_the_first_screen(seen, size):
    box = seen("team.html", size).locator("ul.headlines").bounding_box()
    assert box["y"] + box["height"] <= size[1] * (1 if size[0] > 500 else 1.35)


@pytest.mark.parametrize("size", SIZES.values(), ids=SIZES)
@pytest.mark.parametrize("name", PAGES)
def test_words_in_charts_stay_inside_the_page_and_do_not_cover_each_other(seen, name, size):
    page = seen(name, size)
    boxes = page.evaluate("""() => [...document.querySelectorAll('figure:not(.strip) svg')]
        .filter(svg => svg.getBoundingClientRect().width > 0)
        .map(svg => [...svg.querySelectorAll('text')].map(t => {
            const b = t.getBoundingClientRect(); return [t.textContent, b.left, b.top, b.right, b.bottom]; }))""")
    assert name == "logs.html" or sum(map(len, boxes)) > 20
    covered = []
    for texts in boxes:
        for i, (told, left, top, right, bottom) in enumerate(texts):
            assert left >= -1, told
            assert right <= size[0] + 1, told
            for other, l2, t2, r2, b2 in texts[i + 1 :]:
                wide, high = min(right, r2) - max(left, l2), min(bottom, b2) - max(top, t2)
                if wide > 2 and high > 0.45 * min(bottom - top, b2 - t2):
                    covered.append((told, other))
    assert covered == []


@pytest.mark.parametrize("name", PAGES)
def test_the_automated_audit_finds_no_violation_of_wcag_2_2_a_and_aa(seen, name):
    # axe-core 4.12, from its Python package; audit.py does the same to every page of a folder.
    audit = audited(seen(name, SIZES["desktop"]))
    assert audit.violations == []
    assert audit.passes > 10


def test_the_automated_audit_does_find_what_is_wrong(browser):
    page = browser.new_page()
    page.set_content('<html lang="en"><title>t</title><main><h1>t</h1><img src="data:,"><p style="color:#ccc">pale</p>')
    assert {rule for rule, *_ in audited(page).violations} == {"image-alt", "color-contrast"}
    page.close()


def test_the_audit_of_a_folder_without_pages_says_what_to_name(tmp_path, capsys):
    assert main([str(tmp_path)]) == 2
    assert "Name one folder that holds HTML pages" in capsys.readouterr().err


def test_every_printed_sheet_holds_its_charts_uncut(opened, report, poppler, tmp_path):
    page = opened("team.html", SIZES["desktop"])
    page.emulate_media(media="print")
    page.set_viewport_size({"width": 673, "height": 1005})  # A4 less the margins, at 96 px an inch
    tall = page.evaluate("""() => [...document.querySelectorAll('figure, .finding, .person')]
        .map(f => [f.className || f.tagName, f.getBoundingClientRect().height, getComputedStyle(f).breakInside])""")
    assert all(height < 1005 for _, height, _ in tall)
    assert all(rule == "avoid" for _, height, rule in tall if height > 0)
    assert page.evaluate("document.documentElement.scrollWidth") <= 674


def test_the_jump_list_works_from_the_keyboard(opened):
    page = opened("team.html", SIZES["desktop"])
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.className") == "skip"
    page.keyboard.press("Enter")
    assert page.evaluate("location.hash") == "#answers"
    seen = []
    page = opened("team.html", SIZES["desktop"])
    for _ in range(40):
        page.keyboard.press("Tab")
        seen.append(page.evaluate("document.activeElement.getAttribute('href') || ''"))
    jumps = page.evaluate("[...document.querySelectorAll('nav a')].map(a => a.getAttribute('href'))")
    assert [s for s in seen if s in jumps and seen.index(s) >= 0][-len(jumps) :] == jumps


def test_a_jump_is_followed_by_the_enter_key(opened):
    page = opened("team.html", SIZES["desktop"])
    page.locator('nav a[href="#break"]').focus()
    page.keyboard.press("Enter")
    assert page.evaluate("location.hash") == "#break"
    assert -1 < page.locator("#break").bounding_box()["y"] < SIZES["desktop"][1]  # to a fraction of a pixel
    page.keyboard.press("Tab")
    assert page.evaluate("!!document.activeElement.closest('#break')")


SORTED = """() => [...document.querySelectorAll('tbody tr')].map(row => row.cells[0].textContent)"""


@pytest.mark.parametrize(
    ("signs", "cells", "up"),
    [
        ('data-decimal="." data-thousands=","', ["1,200", "9.5", "310"], ["9.5", "310", "1,200"]),
        ('data-decimal="," data-thousands="."', ["1.200", "9,5", "310"], ["9,5", "310", "1.200"]),
        ('data-decimal="," data-thousands="\u00a0"', ["1\u00a0200", "9,5", "310"], ["9,5", "310", "1\u00a0200"]),
        (
            "",
            [
                f'<time datetime="{iso}">{told}</time>'
                for iso, told in (("2026-03-03", "3 Mar"), ("2025-12-10", "10 Dec"))
            ],
            ["10 Dec", "3 Mar"],
        ),
        ("", ['<em data-sort="7">7 more</em>', '<em data-sort="-3">3 fewer</em>'], ["3 fewer", "7 more"]),
    ],
    ids=["point", "comma", "space", "dates", "more and fewer"],
)
def test_a_column_sorts_by_what_it_says(browser, signs, cells, up):
    script = (resource("reports") / "sort.js").read_text(encoding="utf-8")
    rows = "".join(f"<tr><th>{cell}</th></tr>" for cell in (*cells, cells[0]))
    table = f"<table><thead><tr><th>x</th></tr></thead><tbody>{rows}</tbody></table>"
    page = browser.new_page()
    page.set_content(f"<!doctype html><html {signs}><main>{table}</main><script>{script}</script></html>")
    page.locator("thead button").click()
    assert list(dict.fromkeys(page.evaluate(SORTED))) == up
    page.close()


def test_tables_sort_by_a_click_and_read_the_same_without_script(opened):
    plain = opened("logs.html", SIZES["desktop"], java_script_enabled=False)
    rows = plain.locator("#people tbody tr")
    written = [row.locator("th").inner_text() for row in rows.all()]
    assert len(written) == 9
    assert plain.locator("thead button").count() == 0
    page = opened("logs.html", SIZES["desktop"])
    head = page.locator("#people thead th").first
    head.locator("button").click()
    head.locator("button").click()
    assert head.get_attribute("aria-sort") == "descending"
    shown = [row.locator("th").inner_text() for row in page.locator("#people tbody tr").all()]
    assert shown == sorted(written, key=str.lower, reverse=True)


@pytest.mark.pdf
@pytest.mark.parametrize("name", ["athletes/agnes-holt.html", "athletes/script-alert-1-script.html"])
def test_an_athletes_page_prints_on_two_sheets(opened, poppler, tmp_path, name):
    sheet = tmp_path / "sheet.pdf"
    opened(name, SIZES["desktop"]).pdf(path=sheet, prefer_css_page_size=True)
    told = subprocess.run([Path(poppler) / "pdfinfo", sheet], capture_output=True, text=True, check=True).stdout
    assert int(re.search(r"Pages:\s+(\d+)", told)[1]) <= 2
