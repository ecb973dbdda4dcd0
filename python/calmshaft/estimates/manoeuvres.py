"""What only manoeuvres ask for: how the governor follows the speed and how a clutch takes hold."""

from calmshaft.estimates.rules import Known, Spread, number, rule

RATED = "gearbox.rated_torque"


@rule(
    "engine.governor.droop",
    "six per cent",
    formula="0.06 of rated speed from no to rated torque, mechanical governor; near zero where it is electronic",
    spread="0.04 to 0.10",
    measure="In neutral at rated lever: (no-load rpm - full-load rpm) / rated rpm.",
    source="value from memory",
    cautions=("run",),
)
def _droop(known: Known) -> Spread:
    return 0.06, 0.04, 0.10


@rule(
    "engine.governor.lag",
    "tenth of a second",
    formula="0.1 s from a change of speed to two thirds of the change of fuel",
    spread="0.05 to 0.15 s",
    measure="No workshop way; it decides whether idle hunts.",
    source="value from memory",
)
def _lag(known: Known) -> Spread:
    return 0.1, 0.05, 0.15


@rule(
    "gearbox.clutch.torque",
    "twice the box",
    formula="2 x rated torque of the box, full pressure, at its input",
    spread="1.5 to 2.5 x rated torque",
    measure="Ask the maker of the gearbox.",
    source="value from memory",
    needs=(RATED,),
)
def _clutch_torque(known: Known) -> Spread:
    rated = number(known, RATED)
    return 2 * rated, 1.5 * rated, 2.5 * rated


@rule(
    "gearbox.clutch.fill_time",
    "two tenths",
    formula="0.2 s from the lever until the plates touch",
    spread="0.1 to 0.3 s",
    measure="Pressure gauge at the clutch's test port, filmed together with the lever.",
    source="value from memory",
    cautions=("run",),
)
def _fill_time(known: Known) -> Spread:
    return 0.2, 0.1, 0.3


@rule(
    "gearbox.clutch.ramp_time",
    "six tenths",
    formula="0.6 s from touching to full pressure",
    spread="0.3 to 1.0 s",
    measure="Pressure gauge at the clutch's test port, filmed together with the lever.",
    source="value from memory",
    cautions=("run",),
)
def _ramp_time(known: Known) -> Spread:
    return 0.6, 0.3, 1.0
