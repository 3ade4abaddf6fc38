"""From fits to findings: effects, checks, grades and sentences, as findings.json has them."""

from preflare.findings.plain import write_findings
from preflare.findings.review import review

__all__ = ["review", "write_findings"]
