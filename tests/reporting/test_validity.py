"""Every page is valid HTML to the Nu Html Checker, the validator of the W3C and the WHATWG, its pictures included."""

import pytest

from .validity import main, messages

pytestmark = pytest.mark.java


def test_every_page_is_valid(java, report, pages):
    assert messages(java, [report / name for name in pages]) == []


def test_the_checker_finds_a_fault(java, tmp_path):
    # HTML standard, 13.2.6.4.7: an end tag "p" without a p element in button scope is a parse error.
    page = tmp_path / "page.html"
    page.write_text("<!doctype html><html lang=en><title>t</title><p><div>a</div></p>", encoding="utf-8")
    (found,) = messages(java, [page])
    assert found.startswith("page.html, line 1: error: No “p” element in scope")


def test_the_command_says_what_it_needs(capsys, tmp_path):
    assert main([]) == 2
    assert main([str(tmp_path)]) == 2
    assert "Name one folder" in capsys.readouterr().err
