"""Reports: pages, PDFs and tables from findings.json and the store's views. Computes no statistic of its own.

A page is first a record (records.py), built by team.py, athlete.py and logs.py; html.py and pdf.py write the same
record. All wording stands in reports/words, all numbers pass numbers.py.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from preflare.reporting.report import write_reports
    from preflare.reporting.views import views_needed

__all__ = ["views_needed", "write_reports"]
_MODULES = {"views_needed": "views", "write_reports": "report"}


def __getattr__(name: str) -> Any:
    """Pages and charts are imported when they are asked for: commands that write none need words and numbers alone."""
    if name not in _MODULES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_MODULES[name]}"), name)
