"""Burning, gas exchange and friction. The start values are those of the compiled core, told here in words."""

import math
from collections.abc import Callable

from calmshaft import _core
from calmshaft.estimates.engine import is_petrol
from calmshaft.estimates.rules import Known, Spread, always, number, percent, rule

DEGREE = math.pi / 180  # [rad]
BAR = 1e5  # [Pa]
HEYWOOD = "value from memory: Heywood"
TRADE = "common practice, no source"


def _fuel(known: Known) -> _core.Fuel:
    return _core.Fuel.petrol if is_petrol(known) else _core.Fuel.diesel


def _strokes(known: Known) -> int:
    return int(known.get("engine.strokes", 4))  # type: ignore[call-overload, no-any-return]


def _combustion(
    field: str,
    name: str,
    *,
    diesel: tuple[float, float],
    petrol: tuple[float, float],
    formula: str,
    spread: str,
    measure: str = "Needs a pressure indicator; it matters little.",
    source: str = HEYWOOD,
    applies: Callable[[Known], bool] = always,
    cautions: tuple[str, ...] = (),
) -> None:
    """Register one value; `diesel` and `petrol` say how far below and above the start it may lie, in SI."""

    @rule(
        f"engine.combustion.{field}",
        name,
        formula=formula,
        spread=spread,
        measure=measure,
        source=source,
        applies=applies,
        cautions=cautions,
    )
    def estimate(known: Known) -> Spread:
        start = getattr(_core.default_combustion(_fuel(known), _strokes(known)), field)
        below, above = petrol if is_petrol(known) else diesel
        return start, start - below, start + above


_combustion(
    "burn_start",
    "single burn",
    diesel=(8 * DEGREE, 7 * DEGREE),
    petrol=(10 * DEGREE, 10 * DEGREE),
    formula="2 deg before firing top dead centre",
    spread="10 deg before to 5 deg after",
    measure="Needs a pressure indicator.",
    applies=lambda known: not is_petrol(known),
)
_combustion(
    "burn_start",
    "single burn after a spark",
    diesel=(8 * DEGREE, 7 * DEGREE),
    petrol=(10 * DEGREE, 10 * DEGREE),
    formula="20 deg before firing top dead centre",
    spread="30 to 10 deg before",
    measure="Timing lamp: burning starts 8 deg after the spark.",
    applies=is_petrol,
    cautions=("run",),
)
_combustion(
    "burn_duration",
    "single burn",
    diesel=(10 * DEGREE, 30 * DEGREE),
    petrol=(15 * DEGREE, 20 * DEGREE),
    formula="50 deg (diesel), 60 deg (petrol)",
    spread="40 to 80 deg; 45 to 80 deg",
)
_combustion(
    "burn_coefficient",
    "single burn",
    diesel=(0.0, 0.0),
    petrol=(0.0, 0.0),
    formula="6.9 (diesel: 99.9 % burnt in the duration), 5 (petrol: 99.3 %)",
    spread="none: it says what the duration means",
)
_combustion(
    "burn_exponent",
    "single burn",
    diesel=(0.4, 0.3),
    petrol=(0.5, 1.0),
    formula="0.7 (diesel), 2 (petrol)",
    spread="0.3 to 1.0; 1.5 to 3",
)
_combustion(
    "polytropic_exponent",
    "one exponent",
    diesel=(0.03, 0.03),
    petrol=(0.03, 0.03),
    formula="1.35, compression and expansion alike",
    spread="0.03",
    measure="No workshop way; a compression gauge shows leakage only.",
)
_combustion(
    "inlet_pressure",
    "unblown",
    diesel=(0.08 * BAR, 0.02 * BAR),
    petrol=(0.08 * BAR, 0.02 * BAR),
    formula="1.0 bar absolute, 1.2 bar for a blown two-stroke; supercharged: atmosphere plus its boost",
    spread="0.08 bar down, 0.02 bar up; boost comes on top",
    measure="Boost gauge on the inlet manifold at full throttle.",
    source=TRADE,
    cautions=("run",),
)
_combustion(
    "exhaust_pressure",
    "free exhaust",
    diesel=(0.03 * BAR, 0.15 * BAR),
    petrol=(0.03 * BAR, 0.15 * BAR),
    formula="1.05 bar absolute",
    spread="1.02 to 1.20 bar",
    measure="Gauge on a long copper pipe from the exhaust, at full throttle.",
    source=TRADE,
    cautions=("run", "exhaust"),
)
_combustion(
    "inlet_closes",
    "bottom dead centre",
    diesel=(0.0, 50 * DEGREE),
    petrol=(0.0, 50 * DEGREE),
    formula="effective closing 180 deg before firing top dead centre; two-stroke ports 115 deg before",
    spread="up to 50 deg later",
    measure="Dial on the valve, degree wheel on the crank.",
    source=TRADE,
    cautions=("turn",),
)
_combustion(
    "exhaust_opens",
    "plain cam",
    diesel=(15 * DEGREE, 15 * DEGREE),
    petrol=(15 * DEGREE, 15 * DEGREE),
    formula="130 deg after firing top dead centre; two-stroke ports 105 deg after",
    spread="15 deg",
    measure="Dial on the valve, degree wheel on the crank.",
    source=TRADE,
    cautions=("turn",),
)


def _friction(field: str, formula: str) -> None:
    """Register one term of the engine's mean effective friction pressure."""

    @rule(
        f"engine.friction.{field}",
        "three terms",
        formula=formula,
        spread="30 %",
        measure="In neutral, weigh the fuel can: mean pressure in bar = 4800 (petrol 3000) x l/h "
        "/ (litres x rpm), less the drag of the gearbox (petrol: and 0.5 bar of throttling).",
        source=HEYWOOD,
        needs=("engine.stroke",),
        cautions=("run", "fuel"),
    )
    def estimate(known: Known) -> Spread:
        start = _core.default_friction(_fuel(known), _strokes(known), number(known, "engine.stroke"))
        return percent(getattr(start, field), 30)


_friction("constant", "1.05 bar (diesel; 1.40 with a prechamber), 0.97 bar (petrol)")
_friction("per_speed", "0.48 bar (diesel), 0.15 bar (petrol) for each 1000 rpm")
_friction(
    "per_piston_speed_squared",
    "0.004 bar for each (m/s)^2 of mean piston speed (diesel); 0.05 bar x (rpm/1000)^2 (petrol)",
)
