"""`report`: one page about a line, the same in plain data, and letters that ask for what is missing."""

from __future__ import annotations

from pathlib import Path

from calmshaft import Line, report
from calmshaft.commands.common import CAUTION, Exit, all_of, exit_for, tell
from calmshaft.condition import line_fault

PAGES = (".html", ".htm")


def run_report(line: Line, out: Path | None, letter: Path | None, options: dict) -> Exit:
    """Write the page with result.json beside it, and the letters. options: those of cs.report.

    Raises LineError where a name is no page's or there is nothing to write.
    """
    all_of(
        lambda: _named(out, letter),
        lambda: _kind("--out", out, PAGES),
        lambda: _kind("--letter", letter, (*PAGES, ".txt")),
    )
    made = report(line, **options)
    written = list(made.write(out)) if out else []
    written += [made.write_letters(letter)] if letter else []
    tell(f"written: {', '.join(map(str, written))}")
    tell(CAUTION)
    return exit_for(made.verdicts)


def _named(out: Path | None, letter: Path | None) -> None:
    if out is None and letter is None:
        raise line_fault(
            "--out", "nothing", "there is nothing to write", "write --out report.html, --letter letter.txt"
        )


def _kind(option: str, path: Path | None, kinds: tuple[str, ...]) -> None:
    if path is not None and path.suffix not in kinds:
        example = f"{option.removeprefix('--').replace('out', 'report')}.html"
        raise line_fault(
            option, str(path), f"must end in {' or '.join(kinds)}", f"write for instance {option} {example}"
        )
