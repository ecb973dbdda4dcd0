"""Where a formula or a number comes from, and whether its text was read; what wrong inputs are told."""

from __future__ import annotations

from dataclasses import dataclass

from calmshaft import _core

FROM_MEMORY = "from memory: check it against the current text before you quote it"
SEEN = "value seen in print"
CLOSED_FORM = "closed form"
ENTERED = "entered by the user"


@dataclass(frozen=True, slots=True)
class Source:
    """document and clause; text: how it was had, FROM_MEMORY, SEEN, CLOSED_FORM or ENTERED."""

    document: str
    clause: str = ""
    text: str = FROM_MEMORY

    def __str__(self) -> str:
        return ", ".join(part for part in (self.document, self.clause) if part) + f" ({self.text})"


@dataclass(frozen=True, slots=True)
class Constant:
    """A number that a rule uses: value, low and high [unit], and its source."""

    value: float
    low: float
    high: float
    unit: str
    source: Source


@dataclass(frozen=True, slots=True)
class Figure:
    """A number worked out by a rule: its name, value [unit], equation in words and symbols, source."""

    name: str
    value: float
    unit: str
    equation: str
    source: Source

    def __str__(self) -> str:
        return f"{self.name} {self.value:.4g} {self.unit}".rstrip() + f" = {self.equation}; {self.source}"


def require(*checks: tuple[bool, str, object, str, str]) -> None:
    """Raises one LineError with all that does not hold: (holds, name, value, rule, what to write)."""
    faults = [_core.Fault(name, str(value), rule, advice) for holds, name, value, rule, advice in checks if not holds]
    if faults:
        error = _core.LineError("\n".join(f"{f.path} is {f.value}: {f.rule}; {f.advice}" for f in faults))
        error.faults = tuple(faults)
        raise error


def positive(name: str, value: float, unit: str, example: str) -> tuple[bool, str, object, str, str]:
    """The check that a value is finite and more than zero."""
    return (0 < value < float("inf"), name, f"{value} {unit}".rstrip(), "must be more than zero", f"write {example}")
