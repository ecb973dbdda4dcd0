"""Rating, pistons, rods and crank."""

import math

from calmshaft.estimates.rules import Known, Spread, exact, number, percent, rule

RPM = math.pi / 30  # [rad/s]
SIZE = ("engine.cylinders", "engine.bore", "engine.stroke")


def is_petrol(known: Known) -> bool:
    """Diesel where the fuel is not known."""
    return known.get("engine.fuel", "diesel") == "petrol"


def litres(known: Known) -> float:
    """Swept volume of all cylinders [l]."""
    bore, stroke = number(known, "engine.bore"), number(known, "engine.stroke")
    return 1000 * number(known, "engine.cylinders") * math.pi / 4 * bore**2 * stroke


def is_vee(known: Known) -> bool:
    """Inline where the layout is not known."""
    return known.get("engine.layout", "inline") == "vee"


@rule(
    "engine.rated_torque",
    "plate power",
    formula="power over speed: 9549 x kW / rpm",
    spread="exact",
    measure="Read the data plate.",
    source="definition of power",
    needs=("engine.rated_power", "engine.rated_rpm"),
)
def _torque_of_power(known: Known) -> Spread:
    return exact(number(known, "engine.rated_power") / number(known, "engine.rated_rpm"))


@rule(
    "engine.rated_torque",
    "mean pressure",
    formula="brake mean effective pressure 7.5 bar (diesel) or 9 bar (petrol), unblown; 11 to 14 bar blown",
    spread="15 % down, twice up",
    measure="Read the data plate.",
    source="value from memory: Heywood",
    needs=SIZE,
)
def _torque_of_pressure(known: Known) -> Spread:
    joule_per_turn = 1e5 * (9.0 if is_petrol(known) else 7.5) * litres(known) / 1000
    cycle = math.pi * float(known.get("engine.strokes", 4))  # type: ignore[arg-type]
    return percent(joule_per_turn / cycle, 15, 100)


@rule(
    "engine.rod_length",
    "rod ratio",
    formula="1.58 strokes (diesel), 1.70 strokes (petrol)",
    spread="8 %",
    measure="Calipers: the gap between the two bores plus half of each bore.",
    source="workshop data of several engines; diesel value from memory",
    needs=("engine.stroke",),
)
def _rod_length(known: Known) -> Spread:
    return percent((1.70 if is_petrol(known) else 1.58) * number(known, "engine.stroke"), 8)


@rule(
    "engine.compression_ratio",
    "trade value",
    formula="17.5 (diesel, direct injection; about 21.5 with a prechamber), 9 (petrol)",
    spread="10 %",
    measure="Fill the clearance with oil from a syringe at top dead centre: 1 + swept / filled volume. "
    "Drain it all before cranking.",
    source="value from memory: Heywood",
    cautions=("turn",),
)
def _compression_ratio(known: Known) -> Spread:
    return percent(9.0 if is_petrol(known) else 17.5, 10)


@rule(
    "engine.piston_mass",
    "bore cube",
    formula="1500 (diesel) or 780 (petrol) kg/m^3 x bore^3, with pin, rings and clips",
    spread="25 % (diesel), 20 % (petrol)",
    measure="Scale that reads 1 g, all the parts together.",
    source="own arithmetic, held against workshop data of several engines",
    needs=("engine.bore",),
)
def _piston_mass(known: Known) -> Spread:
    cube = number(known, "engine.bore") ** 3
    return percent(780 * cube, 20) if is_petrol(known) else percent(1500 * cube, 25)


@rule(
    "engine.rod_mass",
    "bore bore length",
    formula="780 (diesel) or 480 (petrol) kg/m^3 x bore^2 x rod length, with shells and bolts",
    spread="20 %",
    measure="Scale; as [engine.rod_scales] with one under each end, which finds its centre too.",
    source="workshop data of one engine; the rest from memory",
    needs=("engine.bore", "engine.rod_length"),
)
def _rod_mass(known: Known) -> Spread:
    slab = number(known, "engine.bore") ** 2 * number(known, "engine.rod_length")
    return percent((480 if is_petrol(known) else 780) * slab, 20)


@rule(
    "engine.rod_centre_from_big_end",
    "three tenths",
    formula="0.30 (diesel) or 0.28 (petrol) of the rod length",
    spread="0.25 to 0.35 of the rod length",
    measure="Rod level, each end on a scale in turn: length x small-end reading / sum of both; write the readings as "
    "[engine.rod_scales].",
    source="workshop data; value from memory",
    needs=("engine.rod_length",),
)
def _rod_centre(known: Known) -> Spread:
    length = number(known, "engine.rod_length")
    return (0.28 if is_petrol(known) else 0.30) * length, 0.25 * length, 0.35 * length


@rule(
    "engine.rod_inertia",
    "two masses less a tenth",
    formula="mass x centre x (length - centre) / 1.10, centre counted from the big end",
    spread="10 % down, 13 % up",
    measure="Swing it on a knife edge in the small end: m g a t^2 / (4 pi^2) - m a^2, "
    "a from the edge to the centre of mass; write the readings as [engine.rod_swing].",
    source="ASME ICEF2002 p. 305, abstract: two masses give 9.65 % too much on average of 19 rods",
    needs=("engine.rod_mass", "engine.rod_centre_from_big_end", "engine.rod_length"),
)
def _rod_inertia(known: Known) -> Spread:
    centre = number(known, "engine.rod_centre_from_big_end")
    rest = number(known, "engine.rod_length") - centre
    return percent(number(known, "engine.rod_mass") * centre * rest / 1.10, 10, 13)


@rule(
    "engine.crank_inertia",
    "weighed crank",
    formula="mass x (0.48 stroke)^2 inline, mass x (0.54 stroke)^2 vee",
    spread="15 %",
    measure="Hang the bare crank on three wires: m g R^2 t^2 / (4 pi^2 l); write the readings as [engine.crank_hang].",
    sheet="hang",
    source="own geometry",
    needs=("engine.crank_mass", "engine.stroke"),
    cautions=("lift",),
)
def _crank_weighed(known: Known) -> Spread:
    radius = (0.54 if is_vee(known) else 0.48) * number(known, "engine.stroke")
    return percent(number(known, "engine.crank_mass") * radius**2, 15)


@rule(
    "engine.crank_inertia",
    "litre and stroke",
    formula="2.2 (inline) or 1.75 (vee) kg/l x litres x stroke^2; six tenths of it without counterweights",
    spread="35 %",
    measure="Hang the bare crank on three wires: m g R^2 t^2 / (4 pi^2 l); write the readings as [engine.crank_hang].",
    sheet="hang",
    source="own geometry: six cranks built up from pins, journals, webs and counterweights",
    needs=SIZE,
    cautions=("lift",),
)
def _crank_inertia(known: Known) -> Spread:
    return percent((1.75 if is_vee(known) else 2.2) * litres(known) * number(known, "engine.stroke") ** 2, 35)


@rule(
    "engine.max_shift_rpm",
    "idle plus a quarter",
    formula="1.25 x idle rpm, at most 1000 rpm; a limit, not physics",
    spread="none",
    measure="Ask the maker of the gearbox.",
    source="trade, no source",
    needs=("engine.idle_rpm",),
)
def _max_shift_rpm(known: Known) -> Spread:
    return exact(min(1.25 * number(known, "engine.idle_rpm"), 1000 * RPM))
