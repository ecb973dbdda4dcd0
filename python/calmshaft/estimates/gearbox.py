"""The gearbox: five of its estimates lean on its own rated torque."""

import math

from calmshaft.estimates.rules import Known, Spread, factor, number, percent, rule

DEGREE = math.pi / 180  # [rad]
RATED = "gearbox.rated_torque"
BOX_INERTIA = "gearbox.input_inertia"
LOADED = ("ahead", "astern")


@rule(
    RATED,
    "three tenths more",
    formula="1.3 x the engine's rated torque; after an engine swap it can be twice that",
    spread="30 %",
    measure="Read the plate of the gearbox: 9549 x kW for each rpm of its input.",
    source="trade, no source",
    needs=("engine.rated_torque",),
)
def _rated_torque(known: Known) -> Spread:
    return percent(1.3 * number(known, "engine.rated_torque"), 30)


@rule(
    BOX_INERTIA,
    "box torque",
    formula="0.025 kg m^2 x (rated torque of the box / 200 N m)^1.5, hydraulic with two shafts; "
    "a third of it with a cone clutch",
    spread="from value/2.5 to value x 2.5",
    measure="Neutral, a cord round the input, two weights in turn: fall h in t, a = 2 h / t^2, "
    "inertia = r^2 [m1 (g - a1) - m2 (g - a2)] / (a1 - a2); write the readings as [gearbox.two_weights].",
    source="own geometry: three boxes built up from drums and gears",
    needs=(RATED,),
    cautions=("turn", "weight"),
)
def _input_inertia(known: Known) -> Spread:
    return factor(0.025 * (number(known, RATED) / 200) ** 1.5, 2.5)


@rule(
    "gearbox.input_drag",
    "one and a half per cent",
    formula="0.015 x rated torque of the box, hydraulic, warm oil; a third of it with a cone clutch",
    spread="from half to twice; cold oil three times",
    measure="Spring scale on a cord round the input, slow steady turn; write the readings as [gearbox.pull].",
    sheet="drag",
    source="own arithmetic of oil shear",
    needs=(RATED,),
    cautions=("turn",),
)
def _input_drag(known: Known) -> Spread:
    return factor(0.015 * number(known, RATED), 2)


def _output_inertia(gear: str) -> None:
    ratio = f"gearbox.{gear}.ratio"

    @rule(
        f"gearbox.{gear}.output_inertia",
        "ratio cube",
        formula="0.08 x input inertia x ratio^3, at the output shaft, ratios of 1.5 to 3",
        spread="from half to twice",
        measure="Open box: 770 kg/m^3 x width x diameter^4 of the wheel, x 0.65 where it is webbed.",
        source="own geometry",
        needs=(BOX_INERTIA, ratio),
        cautions=("lift",),
    )
    def estimate(known: Known) -> Spread:
        return factor(0.08 * number(known, BOX_INERTIA) * number(known, ratio) ** 3, 2)


@rule(
    "gearbox.unloaded[].inertia",
    "fifth of the box",
    formula="0.2 x input inertia; a free pinion 0.04, a counter shaft with its drum 0.5",
    spread="0.04 to 0.5 x input inertia",
    measure="Open box: 770 kg/m^3 x width x diameter^4 of each disc.",
    source="own geometry",
    needs=(BOX_INERTIA,),
    cautions=("lift",),
)
def _unloaded_inertia(known: Known) -> Spread:
    box = number(known, BOX_INERTIA)
    return 0.2 * box, 0.04 * box, 0.5 * box


@rule(
    "gearbox.unloaded[].drag",
    "half per cent",
    formula="0.005 x rated torque of the box, warm oil",
    spread="from value/3 to value x 3; cold oil three to ten times",
    measure="Box open, a cord on the free gear (`pull`); else fit it to the rpm at which the rattle stops.",
    source="own arithmetic; Iqbal et al. 2013 (abstract): drag of open clutches follows viscosity",
    needs=(RATED,),
    cautions=("turn",),
)
def _unloaded_drag(known: Known) -> Spread:
    return factor(0.005 * number(known, RATED), 3)


def _teeth(pair: str, needs: tuple[str, ...]) -> None:
    """The three values of a tooth contact, alike for loaded and unloaded pairs."""

    @rule(
        f"{pair}.backlash",
        "tenth over teeth",
        formula="0.25 deg at the input; 0.10 / teeth of the pinion in rad where they are counted",
        spread="0.13 to 0.5 deg",
        measure="Input held, dial on the output flange: reading / radius x ratio; write the readings as its `dial`.",
        sheet="backlash",
        source="own arithmetic: 5 % of the module",
        needs=needs,
        cautions=("turn",),
    )
    def backlash(known: Known) -> Spread:
        return 0.25 * DEGREE, 0.13 * DEGREE, 0.5 * DEGREE

    @rule(
        f"{pair}.mesh_stiffness",
        "four thousand",
        formula="4000 / rad x rated torque of the box, hardened steel, ratios of 1.5 to 3",
        spread="from value/1.6 to value x 1.6",
        measure="No workshop way; no effect on the vibratory torque.",
        source="own arithmetic on a value from memory of ISO 6336",
        needs=(RATED, *needs),
    )
    def mesh_stiffness(known: Known) -> Spread:
        return factor(4000 * number(known, RATED), 1.6)

    @rule(
        f"{pair}.restitution",
        "eight tenths",
        formula="0.8",
        spread="0.6 to 0.9",
        measure="No workshop way; it shapes impacts only.",
        source="value from memory",
        needs=needs,
    )
    def restitution(known: Known) -> Spread:
        return 0.8, 0.6, 0.9


for _gear in LOADED:
    _output_inertia(_gear)
    _teeth(f"gearbox.{_gear}", (f"gearbox.{_gear}.ratio",))
_teeth("gearbox.unloaded[]", ())
