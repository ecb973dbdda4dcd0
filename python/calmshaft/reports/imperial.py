"""A report in pounds, feet and inches: numbers in words, tables and pictures that stand before a metric unit.

Everything is worked out and worded in metric units first, so that both reports say the same; the digits stay as many.
"""

from __future__ import annotations

import math
import re
from typing import TYPE_CHECKING, Any

from calmshaft.reports.parts import Section, reworded

if TYPE_CHECKING:
    from matplotlib.figure import Figure

INCH, FOOT, POUND, POUND_FORCE = 0.0254, 0.3048, 0.45359237, 4.4482216152605  # [m], [m], [kg], [N]
_TORQUE = POUND_FORCE * FOOT  # [N m]
_PSI = POUND_FORCE / INCH**2  # [Pa]
# metric unit as we write it -> the other, and how much of the other one is
UNITS = {
    "N m/deg": ("lbf ft/deg", 1 / _TORQUE),
    "N m/rad": ("lbf ft/rad", 1 / _TORQUE),
    "N m s/rad": ("lbf ft s/rad", 1 / _TORQUE),
    "N m": ("lbf ft", 1 / _TORQUE),
    "kg m²": ("lb ft²", 1 / (POUND * FOOT**2)),
    "kg/m³": ("lb/ft³", FOOT**3 / POUND),
    "litres": ("in³", 1e-3 / INCH**3),
    "mm": ("in", 1e-3 / INCH),
    "m": ("ft", 1 / FOOT),
    "kg": ("lb", 1 / POUND),
    "kW": ("hp", 1e3 / (550 * _TORQUE)),
    "W": ("BTU/h", 3600 / 1055.05585262),
    "K": ("°F", 1.8),
    "J": ("lbf ft", 1 / _TORQUE),
    "kJ": ("BTU", 1 / 1.05505585262),
    "kN": ("lbf", 1e3 / POUND_FORCE),
    "N": ("lbf", 1 / POUND_FORCE),
    "bar": ("psi", 1e5 / _PSI),
    "MPa": ("ksi", 1e3 / _PSI),
    "Pa s²/m²": ("psi s²/ft²", FOOT**2 / _PSI),
    "Pa s/rad": ("psi s/rad", 1 / _PSI),
}
_NUMBER = r"\d[\d,]*(?:\.\d+)?(?:e[-+]?\d+)?"
_ANY = "|".join(re.escape(unit) for unit in sorted(UNITS, key=len, reverse=True))
_MEASURED = re.compile(
    rf"(?<![\w.])(?:{_NUMBER})(?:(?: to | of | x | then |\s?±\s?|\s?\+-|, then )[-+]*(?:{_NUMBER}))*\s(?P<unit>{_ANY})"
    r"(?![\w^²*/])"
)
_AT_CRANK = re.compile(rf"\(at the crank ({_NUMBER})\)")
_HEADED = re.compile(rf"\[(?P<unit>{_ANY})\]")


def words(text: str) -> str:
    """Numbers before a metric unit in the other one: "12 to 15 N m" -> "8.85 to 11.1 lbf ft"."""

    def other(found: re.Match[str]) -> str:
        unit, factor = UNITS[found["unit"]]
        return f"{_scaled(found[0][: found.start('unit') - found.start()], factor)}{unit}"

    return _headings(_MEASURED.sub(other, text))


def _headings(text: str) -> str:
    return _HEADED.sub(lambda found: f"[{UNITS[found['unit']][0]}]", text)


def _scaled(text: str, factor: float) -> str:
    return re.sub(_NUMBER, lambda one: _shown(float(one[0].replace(",", "")) * factor, one[0]), text)


def _shown(value: float, like: str) -> str:
    """As many digits as it had, three or four."""
    digits = min(max(3, len(re.sub(r"e.*|\D", "", like).lstrip("0"))), 4)
    if value == 0:
        return "0"
    if abs(value) >= 10**digits:
        return f"{value:,.0f}"
    places = max(0, digits - 1 - math.floor(math.log10(abs(value))))
    text = f"{value:.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def rows(table: list[list[str]]) -> list[list[str]]:
    """A table whose headings or cells carry units."""
    found = [_HEADED.search(cell) for cell in table[0]]
    factors = [UNITS[one["unit"]][1] if one else None for one in found]
    body = [
        [words(cell) if factor is None else _scaled(cell, factor) for cell, factor in zip(row, factors, strict=True)]
        for row in table[1:]
    ]
    return [[words(cell) for cell in table[0]], *body]


def section(one: Section) -> Section:
    """A section in the other units; its pictures were drawn in them already."""
    return reworded(one, words, rows)


def picture(figure: Figure) -> None:
    """Words and axes of a drawn figure in the other units, with round numbers on the axes."""
    import matplotlib.text

    for text in figure.findobj(matplotlib.text.Text):
        if text.get_text().strip() and not _HEADED.search(text.get_text()):
            text.set_text(_label(text.get_text()))
    for ax in figure.axes:
        for axis in (ax.xaxis, ax.yaxis):
            _axis(axis)


def _label(text: str) -> str:
    """Words on a drawing; a value "(at the crank 23.1)" has the unit of the value before it."""
    found = _MEASURED.search(text)
    if found and (crank := _AT_CRANK.search(text)):
        scaled = _scaled(crank[1], UNITS[found["unit"]][1])
        text = text[: crank.start(1)] + scaled + text[crank.end(1) :]
    return words(text)


def _axis(axis: Any) -> None:
    from matplotlib.ticker import FixedLocator, FuncFormatter, MaxNLocator

    found = _HEADED.search(axis.get_label_text())
    if not found:
        return
    factor = UNITS[found["unit"]][1]
    low, high = axis.get_view_interval()
    ticks = [tick for tick in MaxNLocator(6).tick_values(low * factor, high * factor) / factor if low <= tick <= high]
    axis.set_major_locator(FixedLocator(ticks))
    axis.set_major_formatter(FuncFormatter(lambda tick, _: f"{tick * factor:.4g}"))
    axis.set_label_text(_headings(axis.get_label_text()))
