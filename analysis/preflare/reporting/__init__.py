"""Reports: pages, PDFs and tables from findings.json and the store's views. Computes no statistic of its own.

A page is first a record (records.py), built by team.py, athlete.py and logs.py; html.py and pdf.py write the same
record. All wording stands in reports/words, all numbers pass numbers.py.
"""

from preflare.reporting.report import write_reports
from preflare.reporting.views import views_needed

__all__ = ["views_needed", "write_reports"]
