"""`report`: one page about a line, and the same in plain data."""

from __future__ import annotations

from pathlib import Path

from calmshaft import Line, report
from calmshaft.commands.common import Exit, exit_for, tell
from calmshaft.condition import line_fault


def run_report(line: Line, out: Path, notes: str, full: bool, jobs: int) -> Exit:
    """Write the page and result.json beside it. Raises LineError where the name is no page's."""
    if out.suffix not in (".html", ".htm"):
        raise line_fault("--out", str(out), "must end in .html", "write for instance --out report.html")
    made = report(line, notes, full, jobs)
    page, data = made.write(out)
    tell(f"written: {page}, {data}")
    return exit_for(made.verdicts)
