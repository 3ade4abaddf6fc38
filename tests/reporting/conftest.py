"""One report, written once, that the tests of the pages read."""

from pathlib import Path

import pytest

from preflare.reporting import write_reports

from .invented import invented_findings, invented_views, people

ODD_NAME = "<script>alert(1)</script>"


@pytest.fixture(scope="session")
def report(tmp_path_factory) -> Path:
    """The folder of a report on nine lifters, three of them with a page; one has a name that would be a script."""
    names = [*people(8), ODD_NAME]
    out = tmp_path_factory.mktemp("report")
    findings = invented_findings(names)
    findings["athletes"] = [a for a in findings["athletes"] if a["name"] in (*names[:2], ODD_NAME)]
    write_reports(findings, invented_views(names), out)
    return out


@pytest.fixture(scope="session")
def pages(report) -> dict[str, str]:
    """The HTML of every page, by its path inside the report."""
    return {
        path.relative_to(report).as_posix(): path.read_text(encoding="utf-8") for path in sorted(report.rglob("*.html"))
    }
