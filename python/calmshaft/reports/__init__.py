"""The report of one line: a single page that explains itself, and the same as plain data."""

from calmshaft.reports.build import Report, report

__all__ = ["Report", "report"]
