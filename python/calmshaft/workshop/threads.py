"""Bolts by the name that stands on the box: "M10", "M10 x 1.25", "3/8-16", "3/8 UNF"."""

from __future__ import annotations

import re
from fractions import Fraction

from calmshaft import _core
from calmshaft.workshop.ranges import need

INCH = 0.0254  # [m]
# coarse pitch [mm] by diameter [mm]; ISO 261, values from memory
METRIC = {5: 0.8, 6: 1.0, 8: 1.25, 10: 1.5, 12: 1.75, 14: 2.0, 16: 2.0, 18: 2.5, 20: 2.5, 24: 3.0}
# turns of thread an inch, coarse and fine, by diameter [in]; ASME B1.1, values from memory
UNIFIED = {
    "1/4": (20, 28),
    "5/16": (18, 24),
    "3/8": (16, 24),
    "7/16": (14, 20),
    "1/2": (13, 20),
    "9/16": (12, 18),
    "5/8": (11, 18),
    "3/4": (10, 16),
}
_METRIC = re.compile(r"M\s?(\d+)(?:\s?[x×*]\s?(\d+(?:\.\d+)?))?", re.IGNORECASE)
_UNIFIED = re.compile(r"(\d+/\d+)\s?(?:in|\")?\s?-?\s?(\d+)?\s?(UNC|UNF)?", re.IGNORECASE)
FINEST, COARSEST = 0.5, 4.0  # [mm] pitch of a metric bolt


def thread_named(name: str) -> tuple[float, float]:
    """Diameter and pitch [m] of a bolt by name. Raises LineError for a name that is none."""
    found = _metric(name.strip()) or _unified(name.strip())
    known = [*(f"M{size}" for size in METRIC), *(f"{size}-{coarse}" for size, (coarse, _) in UNIFIED.items())]
    near = _core.near_matches(name, known) or ["M10", "M10 x 1.25", "3/8-16"]
    need(found is not None, "bolt", f'"{name}"', "is no bolt known here", f"write {' or '.join(near)}")
    assert found is not None
    return found


def _metric(name: str) -> tuple[float, float] | None:
    match = _METRIC.fullmatch(name)
    if not match or int(match[1]) not in METRIC:
        return None
    pitch = float(match[2] or METRIC[int(match[1])])
    return (int(match[1]) * 1e-3, pitch * 1e-3) if FINEST <= pitch <= COARSEST else None


def _unified(name: str) -> tuple[float, float] | None:
    match = _UNIFIED.fullmatch(name)
    if not match or match[1] not in UNIFIED:
        return None
    coarse, fine = UNIFIED[match[1]]
    turns = {"UNC": coarse, "UNF": fine}.get((match[3] or "").upper(), coarse)
    if match[2]:
        if int(match[2]) not in (coarse, fine) or (match[3] and int(match[2]) != turns):
            return None
        turns = int(match[2])
    return float(Fraction(match[1])) * INCH, INCH / turns
