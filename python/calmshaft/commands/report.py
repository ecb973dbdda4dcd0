"""`report`: one page about a line, the same in plain data, and letters that ask for what is missing."""

from __future__ import annotations

from pathlib import Path

from calmshaft import Line, report
from calmshaft.commands.common import CAUTION, Exit, exit_for, tell
from calmshaft.condition import line_fault
from calmshaft.page_text import folded


def run_report(line: Line, out: Path | None, letter: Path | None, options: dict) -> Exit:
    """Write the page with its plain data beside it, and the letters. options: those of cs.report. Raises LineError."""
    made = report(line, **options)
    written = list(made.write(out)) if out else []
    written += [made.write_letters(letter)] if letter else []
    tell(f"written: {', '.join(map(str, written))}")
    tell(folded(CAUTION))
    return exit_for(made.verdicts)


def something_to_write(out: Path | None, letter: Path | None) -> None:
    """Raises LineError where neither is asked for."""
    if out is None and letter is None:
        raise line_fault(
            "--out", "nothing", "there is nothing to write", "write --out report.html, --letter letter.txt"
        )
