"""A worksheet as one page of HTML without scripts or links, and the list of them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from calmshaft import _core
from calmshaft.condition import line_fault
from calmshaft.errors import all_of
from calmshaft.reports import imperial
from calmshaft.reports.parts import tidy
from calmshaft.worksheets.backlash import BACKLASH
from calmshaft.worksheets.bench import BENCH
from calmshaft.worksheets.drag import DRAG
from calmshaft.worksheets.hang import HANG
from calmshaft.worksheets.sheet import SYSTEMS, Example, Sheet, Sum, number
from calmshaft.worksheets.springs import SPRINGS

_SHEETS = {sheet.name: sheet for sheet in (HANG, DRAG, BACKLASH, SPRINGS, BENCH)}
_HERE = Path(__file__).parent


@dataclass(frozen=True)
class Row:
    """A sum as printed: the formula, the example's numbers in it, what it comes to, and its range."""

    formula: str
    numbers: str
    answer: str
    spread: str


@dataclass(frozen=True)
class Worksheet:
    """One worksheet. html: the page; entry: the example as it stands in a line file; sums: the example's arithmetic."""

    name: str
    title: str
    html: str
    entry: str
    sums: tuple[Row, ...]


def worksheets() -> dict[str, str]:
    """Name of each worksheet -> its title and the key that it fills."""
    return {name: f"{sheet.title}: {sheet.key}" for name, sheet in _SHEETS.items()}


def worksheet(name: str, units: str = "metric") -> Worksheet:
    """A worksheet by its name, to print on one page of A4.

    units: "metric" or "imperial", of readings, sums and words. Raises LineError for an unknown name or system.
    """
    sheet, _ = all_of(lambda: _named(name), lambda: _known(units))
    example = Example(sheet.readings, units)
    rows, entry = tuple(_rows(sheet.sums(example), example)), sheet.entry(example)
    return Worksheet(name, sheet.title, _html(sheet, example, rows, entry), entry, rows)


def _named(name: str) -> Sheet:
    if name not in _SHEETS:
        near = _core.near_matches(name, list(_SHEETS))
        advice = f"did you mean {near[0]}?" if near else f"write {', '.join(_SHEETS)}"
        raise line_fault("worksheet", name, "is none that we have", advice)
    return _SHEETS[name]


def _known(units: str) -> None:
    if units not in SYSTEMS:
        raise line_fault("units", units, "is not known here", f"write {' or '.join(SYSTEMS)}")


def _rows(sums: list[Sum], example: Example) -> Iterator[Row]:
    """The sums one after the other; each may use what those before it found."""
    known = {letter: number(example.number(letter)) for letter in example.readings}
    for one in sums:
        found, unit = example.one(one.kind), tidy(example.unit(one.kind))
        letter, _, right = one.formula.partition(" = ")
        value = number(one.answer.value / found)
        low, high = (number(end / found) for end in (one.answer.low, one.answer.high))
        spread = f"{low} to {high}" if low != high else ""
        yield Row(one.formula, _filled(right, known), f"{value} {unit}".strip(), spread)
        known[letter] = value


def _filled(formula: str, known: dict[str, str]) -> str:
    """A formula with numbers for its letters."""
    letters = "|".join(sorted(map(re.escape, known), key=len, reverse=True))
    return re.sub(rf"(?<![A-Za-z])(?:{letters})(?![A-Za-z₁₂])", lambda found: known[found[0]], formula)


def _html(sheet: Sheet, example: Example, rows: tuple[Row, ...], entry: str) -> str:
    from jinja2 import Environment, FileSystemLoader, StrictUndefined
    from markupsafe import Markup

    made = Environment(loader=FileSystemLoader(_HERE), autoescape=True, undefined=StrictUndefined, trim_blocks=True)
    worded = imperial.words if example.system == "imperial" else str
    readings = [
        (
            one.letter,
            one.words,
            tidy(example.unit(one.kind)),
            number(example.number(letter)),
            number(example.error(letter)),
        )
        for letter, one in example.readings.items()
    ]
    return made.get_template("page.html").render(
        sheet=sheet,
        readings=readings,
        rows=rows,
        entry=entry,
        words=worded,
        grid=sheet.grid(example) if sheet.grid else None,
        drawing=Markup((_HERE / "drawings" / f"{sheet.name}.svg").read_text(encoding="utf-8")),
        system=example.system,
        version=_core.__version__,
    )
