"""What a published check leaves behind: one row for the table of all of them."""

import re
from dataclasses import dataclass
from itertools import groupby

import pytest

ROWS = pytest.StashKey[list["Row"]]()

# a source ends by saying how its number was had; the first phrase that it holds is shown
HAD = {
    "ours": "data or rule seen, number ours",
    "from memory": "from memory",
    "seen": "seen",
    "closed form": "closed form",
    "exact": "closed form",
    "definition": "closed form",
}


class Tolerance(float):
    """A number that knows why it is not smaller; a share of the published value, or in its unit where `absolute`."""

    def __new__(cls, value: float, why: str, *, absolute: bool = False):
        made = super().__new__(cls, value)
        made.why, made.absolute = why, absolute
        return made


@dataclass(frozen=True)
class Row:
    """One published value beside ours."""

    group: str
    name: str
    ours: float
    published: float
    tolerance: float
    source: str

    @property
    def difference(self) -> float:
        """Ours less the published value, as the tolerance counts it."""
        return (self.ours - self.published) / (1.0 if self.is_absolute else abs(self.published))

    @property
    def is_absolute(self) -> bool:
        return self.published == 0 or getattr(self.tolerance, "absolute", False)

    @property
    def why(self) -> str:
        return getattr(self.tolerance, "why", "")

    @property
    def had(self) -> str:
        """How the number was had: seen in print, worked out from seen data, remembered, or derived."""
        return next((words for phrase, words in HAD.items() if re.search(rf"\b{phrase}\b", self.source)), "not said")

    def holds(self) -> bool:
        return abs(self.difference) <= self.tolerance


def markdown(rows: list[Row]) -> str:
    """All rows as one page, a table for each test file."""
    counts = ", ".join(f"{sum(row.had == words for row in rows)} {words}" for words in sorted({r.had for r in rows}))
    page = [f"# Published values: {len(rows)} compared", "", counts[0].upper() + counts[1:] + ".", ""]
    page += ["A difference and what is allowed are shares of the published value; `abs` marks its own unit.", ""]
    for group, members in groupby(rows, key=lambda row: row.group):
        page += [f"## {group}", "", "| Value | Source gives | Ours | Difference | Allowed | Had | Source |"]
        page += ["| --- | ---: | ---: | ---: | --- | --- | --- |", *map(line_of, members), ""]
    return "\n".join(page)


def line_of(row: Row) -> str:
    unit = " abs" if row.is_absolute else ""
    allowed = f"{float(row.tolerance):.1g}{unit}" + (f": {row.why}" if row.why else "")
    numbers = f"{row.published:.10g} | {row.ours:.10g} | {row.difference:+.1e}"
    cells = [row.name, numbers, allowed, row.had, row.source]
    return "| " + " | ".join(cell.replace("|", "\\|") if cell is not numbers else cell for cell in cells) + " |"
