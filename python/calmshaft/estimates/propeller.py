"""The propeller, where the line has one; its diameter must be known."""

from calmshaft.estimates.rules import Known, Spread, factor, number, percent, rule

DIAMETER = "propeller.diameter"
PITCH = "propeller.pitch"
BLADES = "propeller.blades"


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
    measure="Hang it dry on three wires: m g R^2 t^2 / (4 pi^2 l).",
    sheet="hang",
    source="own geometry: blades cut into strips",
    needs=("propeller.mass", DIAMETER),
    cautions=("lift",),
)
def _inertia(known: Known) -> Spread:
    return percent(number(known, "propeller.mass") * (0.20 * number(known, DIAMETER)) ** 2, 15)


@rule(
    "propeller.water_inertia",
    "pitch rule",
    formula="0.35 x (pitch / diameter)^1.5 of the dry inertia",
    spread="from value/1.6 to value x 1.6",
    measure="Only afloat, from the rpm of a resonance in gear.",
    source="own geometry: strips after Korotkin, Added Masses of Ship Structures, p. 337",
    needs=("propeller.inertia", PITCH, DIAMETER),
    cautions=("run",),
)
def _water_inertia(known: Known) -> Spread:
    slope = number(known, PITCH) / number(known, DIAMETER)
    return factor(0.35 * slope**1.5 * number(known, "propeller.inertia"), 1.6)


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
