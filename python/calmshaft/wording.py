"""Numbers and states in the words and units of a workshop."""

from __future__ import annotations

import math
from collections.abc import Sequence

from calmshaft.results import Measure

_DEGREES = math.degrees(1.0)


def status_words(status: str, period_cycles: int = 0, reason: str = "") -> str:
    """What the motion does: "repeats every engine cycle", "never repeats: ..."."""
    if status == "periodic":
        return "repeats every engine cycle"
    if status == "subharmonic":
        return f"repeats every {period_cycles} engine cycles"
    if status == "aperiodic":
        return "never repeats exactly: peaks are means over cycles, with the lowest and highest cycle"
    return f"{status}: {reason}" if reason else status


def in_workshop_units(measure: Measure, value: float) -> tuple[float, str]:
    """Degrees in place of radians, per cent in place of shares; the rest as it is."""
    if measure.unit == "rad":
        return value * _DEGREES, "deg"
    if measure.unit == "1":
        return 100.0 * value, "%"
    return value, measure.unit


def number(value: float) -> str:
    """Three digits, no exponent, a dash where there is none."""
    if not math.isfinite(value):
        return "-"
    text = f"{value:,.0f}" if abs(value) >= 99.95 else f"{value:.3g}"
    if "e" in text:  # too small to matter beside its neighbours
        return "0"
    return "0" if text in ("-0", "0.0") else text


def percent(share: float) -> str:
    """A share in per cent; what is not zero never reads as zero."""
    if 0 < share < 0.0005:
        return "under 0.1 %"
    return f"{number(round(100 * share, 1))} %"


def listed(words: Sequence[str]) -> str:
    """ "A", "A and B", "A, B and C"."""
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else list(words))
