"""The HTML itself: one file a page, no request, everything escaped, readable in order."""

import re
from html.parser import HTMLParser
from itertools import pairwise

import html5lib
import pytest

from .conftest import ODD_NAME

VOID = {"meta", "br", "hr", "img", "input", "link", "path", "use"}


class _Walk(HTMLParser):
    """Collects tags with their attributes, and the text between them."""

    def __init__(self):
        super().__init__(convert_charrefs=True)
        self.tags, self.text = [], []

    def handle_starttag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))

    handle_startendtag = handle_starttag

    def handle_data(self, data):
        self.text.append(data)


@pytest.fixture(scope="module")
def walked(pages):
    found = {}
    for name, html in pages.items():
        walk = _Walk()
        walk.feed(html)
        found[name] = walk
    return found


def test_no_page_asks_anything_of_any_other_machine(pages, walked):
    for name, walk in walked.items():
        for tag, attributes in walk.tags:
            for key in ("src", "href", "xlink:href", "action", "data", "srcset", "poster"):
                address = attributes.get(key) or ""
                assert not re.match(r"(?i)\s*(https?:|//|ftp:|javascript:)", address), (name, tag, address)
            assert tag not in {"link", "iframe", "object", "embed", "img", "base"}, name
        for address in re.findall(r"url\(([^)]*)\)", pages[name]):
            assert address.startswith(("data:font/", "#")), (name, address[:40])
        assert "@import" not in pages[name]
        without_namespaces = re.sub(r'xmlns(:xlink)?="http://www\.w3\.org/[0-9a-z/]+"', "", pages[name])
        assert not re.search(r"https?://", without_namespaces), name


def test_the_pages_parse_without_an_error(pages):
    # html5lib 1.1, strict: the parsing algorithm of the WHATWG HTML standard, any parse error raises.
    for name, html in pages.items():
        try:
            html5lib.HTMLParser(strict=True).parse(html)
        except html5lib.html5parser.ParseError as problem:
            pytest.fail(f"{name}: {problem}")


def test_ids_are_unique_and_every_reference_has_its_target(walked):
    for name, walk in walked.items():
        ids = [a["id"] for _, a in walk.tags if a.get("id")]
        assert len(ids) == len(set(ids)), name
        referred = [a[k] for _, a in walk.tags for k in ("href", "xlink:href") if (a.get(k) or "").startswith("#")]
        assert {r[1:] for r in referred} <= set(ids), name
        assert {a["aria-labelledby"] for _, a in walk.tags if a.get("aria-labelledby")} <= set(ids), name


def test_links_between_the_pages_lead_somewhere(report, walked):
    for name, walk in walked.items():
        for tag, attributes in walk.tags:
            address = attributes.get("href") or ""
            if tag == "a" and not address.startswith("#"):
                assert ((report / name).parent / address).resolve().is_file(), (name, address)


def test_headings_go_down_one_step_at_a_time(walked):
    for name, walk in walked.items():
        levels = [int(tag[1]) for tag, _ in walk.tags if re.fullmatch(r"h[1-6]", tag)]
        assert levels[0] == 1
        assert levels.count(1) == 1
        assert all(b <= a + 1 for a, b in pairwise(levels)), name


def test_pages_have_language_landmarks_title_and_skip_link(walked):
    for walk in walked.values():
        tags = [tag for tag, _ in walk.tags]
        assert dict(walk.tags)["html"]["lang"] == "en"
        for landmark in ("header", "nav", "main", "footer", "title"):
            assert tags.count(landmark) >= 1
        first_link = next(a for t, a in walk.tags if t == "a")
        assert first_link["class"] == "skip"
        assert any(a.get("id") == first_link["href"][1:] for t, a in walk.tags if t == "main")


def test_every_picture_has_a_name_and_every_chart_its_table(pages):
    for name, html in pages.items():
        for figure, after in re.findall(r"(<figure.*?</figure>)\s*(<\w+)", html, re.S):
            drawings = re.findall(r"<svg [^>]*>", figure)
            assert drawings
            assert all('role="img"' in d and re.search(r'aria-label="[^"]{20,}"', d) for d in drawings), name
            if 'class="strip"' not in figure and "pair-" not in figure:
                assert after == "<details", name
        for finding in re.findall(r"<article.*?</article>", html, re.S):
            assert "<details>" in finding


def test_cautions_and_who_may_see_it_stand_on_every_page(walked):
    for walk in walked.values():
        text = " ".join(walk.text)
        assert "not a diagnosis" in text
        assert "emergency care" in text
        assert "health data" in text
        assert text.index("not a diagnosis") < text.index("On this page") if "On this page" in text else True


def test_a_name_that_would_be_a_script_is_only_a_name(pages, report):
    assert (report / "athletes" / "script-alert-1-script.html").is_file()
    for name, html in pages.items():
        assert ODD_NAME not in html, name
    page = pages["athletes/script-alert-1-script.html"]
    assert "<h1>&lt;script&gt;alert(1)&lt;/script&gt;</h1>" in page
    assert len(re.findall("<script", page)) == 1  # the one that sorts tables


def test_reading_needs_no_script(pages):
    for html in pages.values():
        without = re.sub(r"<script>.*?</script>", "", html, flags=re.S)
        assert "hidden" not in re.sub(r"overflow:hidden|aria-hidden|hidden\)", "", without.split("</style>")[1])
        assert "display:none" not in without.split("</style>")[1]


def test_a_page_is_light(report):
    assert (report / "team.html").stat().st_size < 2_000_000
