"""`worksheet`: pages to print for the measurements of the workshop."""

from __future__ import annotations

from pathlib import Path

from calmshaft.commands.common import CAUTION, all_of, say, tell
from calmshaft.output import write_text
from calmshaft.page_text import folded
from calmshaft.places import PAGES, into_file
from calmshaft.worksheets import worksheet, worksheets


def list_worksheets() -> None:
    """Name, title and key of each."""
    listed = worksheets()
    width = max(map(len, listed))
    for name, title in listed.items():
        say(f"{name:{width}}  {title}")
    say("\nWrite one to print: calmshaft worksheet hang, with --units imperial in inches and pounds.")


def write_worksheet(name: str, out: Path | None, units: str) -> None:
    """Write one page. Raises LineError for a name that is none, units that are none or a file that is no page."""
    path = out or Path(f"{name}.html")
    made, _ = all_of(lambda: worksheet(name, units), lambda: into_file(path, PAGES, example="sheet"))
    tell(f"written: {write_text(made.html, path)}")
    tell(folded(CAUTION))
