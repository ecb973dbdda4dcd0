"""The propeller, where the line has one; its diameter must be known."""

import math
from collections.abc import Callable

from calmshaft.estimates.rules import Known, Spread, always, number, percent, rule
from calmshaft.workshop.propellers import ALL_WAYS, AREA_RATIO, entrained_water, water_ways

DIAMETER = "propeller.diameter"
PITCH = "propeller.pitch"
BLADES = "propeller.blades"
AREA = "propeller.area_ratio"
BY = "propeller.water_by"
_FACTOR = "from value/1.6 to value x 1.6"


@rule(
    BLADES,
    "three blades",
    formula="3",
    spread="3 to 4",
    measure="Count them.",
    source="trade, no source",
    needs=(DIAMETER,),
)
def _blades(known: Known) -> Spread:
    return 3.0, 3.0, 4.0


@rule(
    PITCH,
    "three quarters",
    formula="0.75 x diameter",
    spread="0.55 to 1.0 x diameter",
    measure="Read the stamp (5 %); else a protractor at 0.7 radius: 2.2 x diameter x tan(angle).",
    source="trade, no source",
    needs=(DIAMETER,),
)
def _pitch(known: Known) -> Spread:
    diameter = number(known, DIAMETER)
    return 0.75 * diameter, 0.55 * diameter, 1.0 * diameter


@rule(
    "propeller.mass",
    "blades and cube",
    formula="26 kg/m^3 x blades x diameter^3 in bronze; aluminium 0.36 of it",
    spread="25 %",
    measure="Bathroom scale.",
    source="own geometry, held against a value from memory of Gerr",
    needs=(DIAMETER, BLADES),
    cautions=("lift",),
)
def _mass(known: Known) -> Spread:
    metal = 0.36 if known.get("propeller.material") == "aluminium" else 1.0
    return percent(26 * metal * number(known, BLADES) * number(known, DIAMETER) ** 3, 25)


@rule(
    "propeller.inertia",
    "fifth of the diameter",
    formula="mass x (0.20 diameter)^2; narrow blades 0.19, wide blades 0.215",
    spread="15 %",
    measure="Hang it dry on three wires: m g R^2 t^2 / (4 pi^2 l); write the readings as [propeller.hang].",
    sheet="hang",
    source="own geometry: blades cut into strips",
    needs=("propeller.mass", DIAMETER),
    cautions=("lift",),
)
def _inertia(known: Known) -> Spread:
    return percent(number(known, "propeller.mass") * (0.20 * number(known, DIAMETER)) ** 2, 15)


def _water(
    name: str, formula: str, spread: str, source: str, needs: tuple[str, ...], applies: Callable[[Known], bool]
) -> None:
    """One way of reckoning the water that swings along, or all of them."""

    @rule(
        "propeller.water_inertia",
        name,
        formula=formula,
        spread=spread,
        measure="Only afloat, from the rpm of a resonance in gear. Area ratio and pitch narrow the ways: `calmshaft "
        "check FILE` sets them beside each other.",
        source=source,
        needs=("propeller.inertia", PITCH, DIAMETER, BLADES, *needs),
        applies=applies,
        cautions=("run",),
    )
    def estimate(known: Known) -> Spread:
        found = entrained_water(*_size(known), way=name)
        return found.value, found.low, found.high


def _size(known: Known) -> tuple[float, float, int, float, float | None]:
    """Diameter and pitch [m], blades, dry inertia [kg m^2], area ratio [-] as `water_ways` takes them."""
    diameter, pitch, blades, dry = (number(known, key) for key in (DIAMETER, PITCH, BLADES, "propeller.inertia"))
    ratio = number(known, AREA) if AREA in known else math.nan
    return diameter, pitch, round(blades), dry, ratio if AREA_RATIO[0] < ratio < AREA_RATIO[1] else None


def ways_of(known: Known) -> dict[str, float]:
    """The water by each way that the data reach [kg m^2]; none where diameter, pitch or dry inertia are not known."""
    needed = (DIAMETER, PITCH, BLADES, "propeller.inertia")
    return water_ways(*_size(known)) if all(float(known.get(key, 0.0)) > 0 for key in needed) else {}  # type: ignore[arg-type]


def _asked(name: str) -> Callable[[Known], bool]:
    return lambda known: known.get(BY, ALL_WAYS) == name and (name == ALL_WAYS or name in ways_of(known))


_water(
    ALL_WAYS,
    "between the pitch rule and the two formulas, as many times above the least as below the greatest",
    "all of them, and no less than value/1.6 to value x 1.6",
    "as of each way",
    (AREA,),
    _asked(ALL_WAYS),
)
for _name, _formula, _source in (
    ("Schwanecke 1963", "0.0703 / (pi blades) x (pitch / diameter)^2 x area_ratio^2 x 1025 kg/m^3 x diameter^5",
     "value from memory: Schwanecke 1963"),
    ("regression 2007",
     "(C1 area_ratio x pitch / diameter - C2) x 1025 kg/m^3 x diameter^5; C1 and C2 by 3, 4, 5 blades: "
     "0.00477 and 0.00093, 0.00394 and 0.00087, 0.00359 and 0.00080",
     "value from memory: MacPherson, Puleo and Packard 2007"),
):  # fmt: skip
    _water(_name, f"{_formula}; taken where water_by says so", _FACTOR, _source, (AREA,), _asked(_name))
_water(
    "pitch rule",
    "0.35 x (pitch / diameter)^1.5 of the dry inertia; the only way without area_ratio",
    _FACTOR,
    "own geometry: strips after Korotkin, Added Masses of Ship Structures, p. 337",
    (),
    always,
)


@rule(
    "propeller.full_throttle_rpm",
    "matched",
    formula="rated rpm: the propeller takes the rated torque there, below it the square law holds",
    spread="25 % down, 10 % up",
    measure="Tachometer on the crank nose: loaded, clean hull, full throttle.",
    source="value from memory: Gerr",
    needs=("propeller.inertia", "engine.rated_rpm"),
    applies=lambda known: "propeller.absorbs_rpm" not in known,
    cautions=("run",),
)
def _full_throttle_rpm(known: Known) -> Spread:
    return percent(number(known, "engine.rated_rpm"), 25, 10)


@rule(
    "propeller.tied_up_factor",
    "bollard",
    formula="1.25 x the torque under way at the same rpm",
    spread="1.1 to 1.5",
    measure="Fuel rate tied up in gear less that in neutral at one rpm: torque = 38000 x l/h / rpm (diesel).",
    source="value from memory, own arithmetic",
    needs=("propeller.inertia",),
    cautions=("run", "fuel"),
)
def _tied_up_factor(known: Known) -> Spread:
    return 1.25, 1.1, 1.5


@rule(
    "propeller.extra_damping",
    "half",
    formula="0.5 x torque / speed, on top of the 2 x torque / speed that the square law brings by itself",
    spread="0 to 1.8: in all 2 to 3.8 x torque / speed",
    measure="No workshop way.",
    source="value from memory: Archer 1955",
    needs=("propeller.inertia",),
)
def _extra_damping(known: Known) -> Spread:
    return 0.5, 0.0, 1.8
