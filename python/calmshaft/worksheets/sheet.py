"""What a worksheet is made of: readings with an example, sums that a workshop function works out, and words."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from calmshaft.quantity import Quantity
from calmshaft.unit_grammar import scale
from calmshaft.workshop.ranges import measured, value_of

SYSTEMS = ("metric", "imperial")
# kind of a value -> SI unit, unit on a metric sheet, unit on the other
UNITS = {
    "count": ("", "", ""),
    "length": ("m", "mm", "in"),
    "mass": ("kg", "kg", "lb"),
    "time": ("s", "s", "s"),
    "inertia": ("kg*m^2", "kg*m^2", "lb*ft^2"),
    "angle": ("rad", "deg", "deg"),
    "force": ("N", "N", "lbf"),
    "torque": ("N*m", "N*m", "lbf*ft"),
    "rate": ("N/m", "N/mm", "lbf/in"),
    "stiffness": ("N*m/rad", "N*m/deg", "lbf*ft/deg"),
}


@dataclass(frozen=True)
class Reading:
    """One thing to read: its letter in the sums, words, kind of value, and the example of each system of units.

    An example is (value, by how much it may be off) in the unit of the sheet.
    """

    letter: str
    words: str
    kind: str
    metric: tuple[float, float]
    imperial: tuple[float, float]


class Example:
    """The readings of an example, in one of the SYSTEMS of units."""

    def __init__(self, readings: Sequence[Reading], system: str):
        self.readings = {reading.letter: reading for reading in readings}
        self.system = system

    def number(self, letter: str) -> float:
        """In the unit of the sheet."""
        return self._written(letter)[0]

    def error(self, letter: str) -> float:
        """By how much it may be off, in the unit of the sheet."""
        return self._written(letter)[1]

    def __getitem__(self, letter: str) -> Quantity:
        """The reading with its range [SI]."""
        one = self.one(self.readings[letter].kind)
        return measured(self.number(letter) * one, self.error(letter) * one)

    def unit(self, kind: str) -> str:
        """As a line file takes it."""
        return UNITS[kind][1 + SYSTEMS.index(self.system)]

    def one(self, kind: str) -> float:
        """How much one of the sheet's unit is [SI]."""
        return scale(self.unit(kind), UNITS[kind][0]) or 1.0

    def constant(self, compute: Callable[..., Quantity | float], kinds: Sequence[str], answer: str) -> float:
        """What a workshop function makes of one of each unit: the factor of a sum in the units of the sheet."""
        return value_of(compute(*(self.one(kind) for kind in kinds))) / self.one(answer)

    def toml(self, letter: str) -> str:
        """A reading as it stands in a line file."""
        unit = self.unit(self.readings[letter].kind)
        value, error = (f"{number:g} {unit}" for number in self._written(letter))
        return f'{{ value = "{value}", source = "measured", range = "{error}" }}'

    def answer_toml(self, found: Quantity, kind: str) -> str:
        """An answer as it stands in a line file, its range to the wider side."""
        one, unit = self.one(kind), self.unit(kind)
        away = max(found.high - found.value, found.value - found.low) / one
        return f'{{ value = "{found.value / one:.3g} {unit}", source = "measured", range = "{away:.2g} {unit}" }}'

    def _written(self, letter: str) -> tuple[float, float]:
        found: tuple[float, float] = getattr(self.readings[letter], self.system)
        return found


@dataclass(frozen=True)
class Sum:
    """A line of arithmetic, "J = 0.2484 x m x R² ÷ l", and what a workshop function finds for the example [SI]."""

    formula: str
    answer: Quantity
    kind: str


@dataclass(frozen=True)
class Grid:
    """A table to fill in: headings and the rows of the example; `blank` rows are left free under it."""

    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    blank: int


@dataclass(frozen=True)
class Sheet:
    """One worksheet. sums, entry and grid are made from the example; entry: lines for the line file under `key`."""

    name: str
    title: str
    key: str
    gives: str
    tools: str
    steps: tuple[str, ...]
    readings: tuple[Reading, ...]
    sums: Callable[[Example], list[Sum]]
    entry: Callable[[Example], str]
    accuracy: str
    cautions: tuple[str, ...]
    source: str
    grid: Callable[[Example], Grid] | None = None
    dense: bool = False  # much on one page: smaller letters


def number(value: float) -> str:
    """Four digits, as a sum is written by hand."""
    return f"{float(f'{value:.4g}'):,.0f}" if abs(value) >= 1e4 else f"{value:.4g}"
