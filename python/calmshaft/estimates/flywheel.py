"""The flywheel: by weight and diameter, by diameter, or by little more than a guess."""

from calmshaft.estimates.engine import is_petrol
from calmshaft.estimates.rules import Known, Spread, factor, number, percent, rule


@rule(
    "flywheel.inertia",
    "weighed disc",
    formula="0.135 x mass x diameter^2, ring gear in the mass, diameter of the casting",
    spread="10 %",
    measure="Hang it on three wires: m g R^2 t^2 / (4 pi^2 l).",
    sheet="hang",
    source="own geometry: flat disc 0.125, heavy rim 0.146",
    needs=("flywheel.mass", "flywheel.outer_diameter"),
    cautions=("lift",),
)
def _flywheel_weighed(known: Known) -> Spread:
    return percent(0.135 * number(known, "flywheel.mass") * number(known, "flywheel.outer_diameter") ** 2, 10)


@rule(
    "flywheel.inertia",
    "fifth power",
    formula="70 kg/m^3 x diameter^5, iron or steel, about a tenth of the diameter thick",
    spread="45 %",
    measure="Weigh it: 0.135 x mass x diameter^2 is good for 10 %; better, hang it on three wires.",
    sheet="hang",
    source="own geometry",
    needs=("flywheel.outer_diameter",),
    cautions=("lift",),
)
def _flywheel_by_diameter(known: Known) -> Spread:
    return percent(70 * number(known, "flywheel.outer_diameter") ** 5, 45)


@rule(
    "flywheel.inertia",
    "share of torque",
    formula="0.0018 (diesel) or 0.0007 (petrol) kg m^2 for each N m of rated torque; a guess, so a wide band",
    spread="from value/2.5 to value x 2.5",
    measure="Measure its diameter at least; better weigh it, 0.135 x mass x diameter^2, or hang it.",
    sheet="hang",
    source="value from memory: a few engines of the trade",
    needs=("engine.rated_torque",),
    cautions=("lift",),
)
def _flywheel_by_torque(known: Known) -> Spread:
    return factor((0.0007 if is_petrol(known) else 0.0018) * number(known, "engine.rated_torque"), 2.5)
