"""The speeds at which a line is judged from idle to rated speed: one rule for all that judge over speed."""

from __future__ import annotations

import math

from calmshaft.line import Line

STEP = 25.0  # [rpm]; ours
_RPM = math.pi / 30.0  # [rad/s]


def running_speeds(idle: float, rated: float, step: float = STEP) -> list[float]:
    """From idle on in steps [rpm], and rated speed."""
    count = max(1, math.ceil((rated - idle) / step - 1e-9))
    return [round(speed, 3) for speed in [*(idle + step * n for n in range(count)), rated]]


def ends_of(line: Line) -> tuple[float, float]:
    """Idle and rated speed [rpm]."""
    idle, rated = (line.quantities[f"engine.{key}"].value / _RPM for key in ("idle_rpm", "rated_rpm"))
    return idle, rated
