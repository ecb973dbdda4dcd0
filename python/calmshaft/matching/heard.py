"""What was heard at the boat, checked as a whole: the speed where the rattle stops, the swing of idle speed."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import partial

from calmshaft import units
from calmshaft.condition import Condition, line_fault
from calmshaft.errors import all_of
from calmshaft.line import Line
from calmshaft.uncertainties.cases import check_condition

Said = str | float
RPM = math.pi / 30.0  # [rad/s]
SLOWEST = 0.5  # [-] of idle speed; no engine runs below, so nothing was heard there; ours


@dataclass(frozen=True)
class Heard:
    """quiet_at [rpm]: by gear the speed from which on the gearbox is quiet, heard to within `to` [rpm].

    swing [-]: greatest less least crank speed of an engine cycle over its mean, at idle in neutral, as a pick-up at the
    ring gear shows it, to within `swing_to` [-]; None where it was not measured.
    """

    quiet_at: Mapping[str, float]
    to: float
    swing: float | None
    swing_to: float

    def at_idle(self, line: Line) -> Condition:
        """Where the swing was measured."""
        return Condition(round(idle_of(line), 3), "neutral")


def idle_of(line: Line) -> float:
    """Idle speed [rpm]."""
    return line.quantities["engine.idle_rpm"].value / RPM


def rated_of(line: Line) -> float:
    """Rated speed [rpm]."""
    return line.quantities["engine.rated_rpm"].value / RPM


def heard(
    line: Line, neutral: Said | None, ahead: Said | None, swing: Said | None, to: Said, swing_to: Said
) -> Heard:  # fmt: skip
    """What was heard, in plain numbers. Raises LineError with all faults."""
    if neutral is None and ahead is None and swing is None:
        advice = "say where the rattle stops in neutral or ahead, or how much idle speed swings"
        raise line_fault("match", "nothing", "nothing was heard that a line could be matched to", advice)
    said = {gear: text for gear, text in (("neutral", neutral), ("ahead", ahead)) if text is not None}
    accuracy, swung_to, *rest = all_of(
        partial(_accuracy, to),
        partial(_share, "swing_to", swing_to),
        lambda: None if swing is None else _swing(line, swing),
        *(partial(_speed, line, gear, text) for gear, text in said.items()),
    )
    found = Heard(dict(zip(said, rest[1:], strict=True)), accuracy, rest[0], swung_to)
    all_of(*(partial(_fits, line, gear, rpm, accuracy) for gear, rpm in found.quiet_at.items()))
    if found.swing is not None:
        check_condition(line, found.at_idle(line))
    return found


def _parsed(name: str, said: Said, kind: str, example: str) -> float:
    """[SI]"""
    try:
        return units.parse(str(said), kind)
    except units.UnitError as error:
        raise line_fault(name, said, error.rule, f'write for instance "{example}"') from None


def _speed(line: Line, gear: str, said: Said) -> float:
    name, rated = f"{gear}_quiet_at", rated_of(line)
    rpm = _parsed(name, said, "speed", "900 rpm") / RPM
    if not rpm > 0:
        raise line_fault(name, said, "must be more than zero", "write the speed at which the rattle stops")
    if rpm < SLOWEST * idle_of(line):
        rule = f"is below half of the idle speed, {idle_of(line):.0f} rpm, where the engine does not run"
        raise line_fault(name, said, rule, "write the speed at which the rattle stops, or correct engine.idle_rpm")
    if rpm > rated:
        advice = "write the speed at which the rattle stops, or correct engine.rated_rpm"
        raise line_fault(name, said, f"is above the rated speed, {rated:.0f} rpm", advice)
    return rpm


def _accuracy(said: Said) -> float:
    rpm = _parsed("heard_to", said, "speed", "25 rpm") / RPM
    if not 1.0 <= rpm <= 300.0:
        raise line_fault("heard_to", said, "lies between 1 and 300 rpm", 'write how far off you may be, "25 rpm"')
    return rpm


def _fits(line: Line, gear: str, rpm: float, to: float) -> None:
    """All three speeds that are tried can be asked of the line."""
    name = f"{gear}_quiet_at"
    if rpm - to < 0.25 * idle_of(line):
        raise line_fault(name, rpm, f"less {to:g} rpm leaves no speed to try", "write a smaller heard_to")
    for tried in (rpm - to, rpm + 2 * to):
        check_condition(line, Condition(tried, gear))
    if gear == "neutral" and not any(pair.turns_in_neutral for pair in line.core.gearbox.unloaded):
        advice = "describe the pair in [[gearbox.unloaded]], or say what is heard ahead"
        raise line_fault(name, rpm, "no pair of teeth turns in neutral that could rattle", advice)


def _share(name: str, said: Said) -> float:
    share = _parsed(name, said, "pure", "20 %")
    if not 0.001 <= share <= 1.0:
        raise line_fault(name, said, "lies between 0.1 % and 100 %", 'write for instance "20 %"')
    return share


def _swing(line: Line, said: Said) -> float:
    """A share of the mean speed, or the whole swing in rpm."""
    if isinstance(said, str) and any(letter.isalpha() for letter in said):
        share = _parsed("idle_swing", said, "speed", "24 rpm") / RPM / idle_of(line)
    else:
        share = _parsed("idle_swing", said, "pure", "3 %")
    if not 0.0 < share < 1.0:
        rule = "must lie between zero and the idle speed itself"
        raise line_fault("idle_swing", said, rule, 'write greatest less least speed, "24 rpm" or "3 %"')
    return share
