"""The estimating rules against built-up parts and figures of the trade.

Sources beside each check: "built up" means our own geometry (pins, webs, drums, blades as simple bodies);
"workshop data" means published service data of an engine of that size; "memory" means a value from memory;
"by hand" means our own rule worked on paper, which guards the arithmetic and not the rule.
"""

import itertools
import math

import pytest

from calmshaft import _core
from calmshaft.estimates import fill, rules

RPM = math.pi / 30
DEGREE = math.pi / 180


def engine(cylinders: int, bore: float, stroke: float, fuel: str, layout: str = "inline", **more: float) -> dict:
    """Known keys of an engine; bore and stroke in mm."""
    return {
        "engine.cylinders": cylinders,
        "engine.strokes": 4,
        "engine.fuel": fuel,
        "engine.layout": layout,
        "engine.bore": bore / 1000,
        "engine.stroke": stroke / 1000,
        "engine.idle_rpm": 800 * RPM,
        "engine.rated_rpm": 2600 * RPM,
        **{f"engine.{key}": value for key, value in more.items()},
    }


LAUNCH = {
    **engine(4, 92, 98, "diesel", rated_torque=165.0),
    "plate.stages[0].stiffness": 9 / DEGREE,
    "plate.stages[0].until": 4 * DEGREE,
    "plate.stages[1].stiffness": 16 / DEGREE,
    "plate.stages[1].until": 16 * DEGREE,
    "plate.stop_angle": 16 * DEGREE,
    "plate.free_play": 1 * DEGREE,
    "gearbox.ahead.ratio": 2.0,
    "shaft.diameter": 0.035,
    "shaft.length": 2.2,
    "propeller.diameter": 0.46,
    "propeller.pitch": 0.33,
    "propeller.blades": 3,
}


@pytest.mark.parametrize(
    ("fuel", "bore", "figure"),
    [
        ("petrol", 87.5, 0.53),  # workshop data, four 2.4 l: 0.345-0.355 kg bare; pin built up, rings memory
        ("petrol", 96.0, 0.74),  # workshop data of a V6, 3.5 l: 0.510-0.520 kg bare
        ("petrol", 101.6, 0.70),  # published weights of a V8, 6.6 l: 0.640 kg with pin; rings memory
        ("petrol", 98.4, 0.89),  # owners' forum, V8 4.6 l, old forged piston: 0.830 kg with pin; rings memory
        ("diesel", 81.0, 0.85),  # memory, 0.75 to 0.95 kg
        ("diesel", 102.0, 1.85),  # memory, 1.7 to 2.0 kg
    ],
)
def test_the_piston_of_a_known_engine_lies_in_the_range(fuel: str, bore: float, figure: float) -> None:
    piston = fill(engine(4, bore, 95, fuel))["engine.piston_mass"]
    assert piston.low <= figure <= piston.high


@pytest.mark.parametrize(
    ("known", "low", "high"),
    [
        (engine(4, 81, 95.5, "diesel", rod_length=1.51 * 0.0955), 0.65, 0.75),  # memory
        (engine(6, 102, 120, "diesel", rod_length=1.60 * 0.120), 1.55, 1.80),  # memory
        (engine(8, 103, 99, "petrol", "vee", rod_length=0.163), 0.82, 0.90),  # big end published, rest memory
    ],
)
def test_the_rod_of_a_known_engine_lies_in_the_range(known: dict, low: float, high: float) -> None:
    rod = fill(known)["engine.rod_mass"]
    assert rod.low < high
    assert rod.high > low


@pytest.mark.parametrize(
    ("known", "built_up"),
    [  # all built up, journals after published service data
        (engine(4, 81, 95.5, "diesel"), (0.031, 0.038)),
        (engine(4, 92, 98, "diesel"), (0.057, 0.057)),
        (engine(6, 102, 120, "diesel"), (0.21, 0.25)),
        (engine(8, 101.6, 88.4, "petrol", "vee"), (0.065, 0.065)),
        (engine(8, 103, 99, "diesel", "vee"), (0.142, 0.142)),
        (engine(4, 87.5, 101, "petrol"), (0.045, 0.045)),
    ],
)
def test_the_crank_of_a_known_engine_lies_in_the_range(known: dict, built_up: tuple[float, float]) -> None:
    crank = fill(known)["engine.crank_inertia"]
    assert crank.low <= built_up[1]
    assert crank.high >= built_up[0]


@pytest.mark.parametrize(
    ("torque", "mesh", "input_inertia", "output_inertia"),
    [(120, 6.4e5, 0.016, 0.008), (250, 1.1e6, 0.055, 0.018), (700, 2.3e6, 0.30, 0.06)],  # built up, ratio 2
)
def test_the_gearbox_of_a_known_size_lies_in_the_range(
    torque: float, mesh: float, input_inertia: float, output_inertia: float
) -> None:
    box = fill({"gearbox.rated_torque": torque, "gearbox.ahead.ratio": 2.0})
    for key, figure in [("ahead.mesh_stiffness", mesh), ("input_inertia", input_inertia)]:
        assert box[f"gearbox.{key}"].low <= figure <= box[f"gearbox.{key}"].high
    wheel = box["gearbox.ahead.output_inertia"]
    assert wheel.low <= output_inertia <= wheel.high


@pytest.mark.parametrize(
    ("blades", "diameter", "mass"),
    [  # memory: a power law of a propeller handbook (Gerr)
        (3, 0.40, 4.9),
        (3, 0.51, 10.3),
        (3, 0.61, 17.8),
        (4, 0.51, 13.8),
        (4, 0.61, 23.8),
        (4, 0.81, 56.5),
    ],
)
def test_the_propeller_mass_follows_the_handbook_law_within_three_per_cent(
    blades: int, diameter: float, mass: float
) -> None:
    rule = fill({"propeller.diameter": diameter, "propeller.blades": blades})["propeller.mass"]
    assert rule.value == pytest.approx(mass, rel=0.03)  # two fits through the same figures


@pytest.mark.parametrize(("slope", "low", "high"), [(0.6, 0.12, 0.17), (0.9, 0.24, 0.33), (1.1, 0.32, 0.44)])
def test_water_follows_the_strips_cut_for_finite_length(slope: float, low: float, high: float) -> None:
    # strips after Korotkin, Added Masses of Ship Structures, p. 337; built up
    known = {"propeller.diameter": 0.5, "propeller.pitch": 0.5 * slope}
    filled = fill(known)
    share = filled["propeller.water_inertia"].value / filled["propeller.inertia"].value
    assert low <= share <= high


FOUR_DIESEL = engine(4, 81, 95.5, "diesel", rod_length=1.51 * 0.0955)
SIX_DIESEL = engine(6, 102, 120, "diesel", rod_length=1.60 * 0.120)
V8_PETROL = engine(8, 101.6, 88.4, "petrol", "vee", rod_length=1.64 * 0.0884)
BOX = {"gearbox.rated_torque": 250.0, "gearbox.ahead.ratio": 2.0}


@pytest.mark.parametrize(
    ("known", "key", "by_hand"),
    [
        (FOUR_DIESEL, "engine.piston_mass", 0.80),
        (SIX_DIESEL, "engine.piston_mass", 1.59),
        (V8_PETROL, "engine.piston_mass", 0.82),
        (FOUR_DIESEL, "engine.rod_mass", 0.74),
        (SIX_DIESEL, "engine.rod_mass", 1.56),
        (V8_PETROL, "engine.rod_mass", 0.72),
        (FOUR_DIESEL, "engine.crank_inertia", 0.039),
        (SIX_DIESEL, "engine.crank_inertia", 0.186),
        (V8_PETROL, "engine.crank_inertia", 0.078),
        ({**V8_PETROL, "flywheel.mass": 14.0, "flywheel.outer_diameter": 0.36}, "flywheel.inertia", 0.245),
        ({"flywheel.outer_diameter": 0.30}, "flywheel.inertia", 0.170),
        (BOX, "gearbox.ahead.mesh_stiffness", 1.0e6),
        (BOX, "gearbox.input_inertia", 0.035),
        (BOX, "gearbox.ahead.output_inertia", 0.022),
        (BOX, "gearbox.unloaded[0].inertia", 0.0070),
        (BOX, "gearbox.unloaded[0].drag", 1.25),
        (BOX, "gearbox.input_drag", 3.75),
        (LAUNCH, "engine.rod_length", 0.155),
        (LAUNCH, "engine.crank_inertia", 0.055),
        (LAUNCH, "engine.max_shift_rpm", 1000 * RPM),
        (LAUNCH, "propeller.mass", 7.59),
        (LAUNCH, "propeller.inertia", 0.0643),
    ],
)
def test_a_rule_gives_what_it_gives_by_hand(known: dict, key: str, by_hand: float) -> None:
    assert fill(known)[key].value == pytest.approx(by_hand, rel=0.02)  # two digits kept on paper


def test_the_weight_of_a_flywheel_narrows_its_range() -> None:
    by_torque = fill(LAUNCH)["flywheel.inertia"]
    by_diameter = fill({**LAUNCH, "flywheel.outer_diameter": 0.36})["flywheel.inertia"]
    by_weight = fill({**LAUNCH, "flywheel.outer_diameter": 0.36, "flywheel.mass": 24.0})["flywheel.inertia"]
    widths = [q.high / q.low for q in (by_torque, by_diameter, by_weight)]
    assert widths == sorted(widths, reverse=True)
    assert by_weight.value == pytest.approx(0.135 * 24 * 0.36**2)  # own geometry: between flat disc and rim


def test_estimates_lean_on_earlier_estimates_in_the_right_order() -> None:
    filled = fill(LAUNCH)
    box = filled["gearbox.rated_torque"].value
    assert box == pytest.approx(1.3 * 165)
    inertia = filled["gearbox.input_inertia"].value
    assert inertia == pytest.approx(0.025 * (box / 200) ** 1.5)
    behind = inertia + filled["plate.hub_inertia"].value
    assert filled["plate.viscous_damping"].value == pytest.approx(0.1 * math.sqrt(16 / DEGREE * behind))
    assert filled["gearbox.ahead.output_inertia"].value == pytest.approx(0.08 * inertia * 2**3)


def test_every_rule_comes_after_the_rules_it_needs() -> None:
    place = {rule.key: index for index, rule in reversed(list(enumerate(rules())))}
    for index, rule in enumerate(rules()):
        for need in rule.needs:
            assert place.get(need, -1) < index, f"{rule.key} comes before {need}"


def test_a_known_value_is_never_estimated() -> None:
    more = {"engine.piston_mass": 0.95, "plate.hub_inertia": 0.004, "gearbox.unloaded[0].drag": 1.3}
    known = {**LAUNCH, **more}
    assert not set(fill(known)) & set(known)


def test_every_estimate_lies_in_its_range_and_says_how_to_measure_it() -> None:
    for key, quantity in fill(LAUNCH).items():
        assert quantity.low <= quantity.value <= quantity.high, key
        assert quantity.source == "estimated"
        assert quantity.rule
        assert quantity.how_to_measure


def test_stop_torque_gives_hysteresis_and_stated_torque() -> None:
    stop = 9 * 3.5 + 16 * 12  # N m, own arithmetic; half the free play taken off the first stage
    filled = fill(LAUNCH)
    assert filled["plate.hysteresis_full_width"].value == pytest.approx(0.03 * stop)
    assert filled["plate.rated_torque"].value == pytest.approx(stop / 1.4)


def test_estimated_free_play_never_swallows_the_first_stage() -> None:
    known = {key: value for key, value in LAUNCH.items() if key != "plate.free_play"}
    play = fill({**known, "plate.stages[0].until": 0.3 * DEGREE})["plate.free_play"]
    assert play.high / 2 < 0.3 * DEGREE


def test_a_solid_drive_gets_a_hub_and_no_springs() -> None:
    plate = [key for key in fill({**LAUNCH, "plate.kind": "rigid"}) if key.startswith("plate.")]
    assert plate == ["plate.hub_inertia"]


def test_one_unloaded_pair_is_assumed_only_where_none_is_given() -> None:
    pair = ("inertia", "drag", "backlash", "mesh_stiffness", "restitution")
    assert {key for key in fill(LAUNCH) if "unloaded" in key} == {f"gearbox.unloaded[0].{key}" for key in pair}
    two = {**LAUNCH, "gearbox.unloaded[0].drag": 1.0, "gearbox.unloaded[1].inertia": 0.004}
    filled = fill(two)
    assert "gearbox.unloaded[0].inertia" in filled
    assert "gearbox.unloaded[1].drag" in filled


def test_parts_that_the_line_does_not_have_get_no_estimates() -> None:
    engine_only = fill(engine(4, 92, 98, "diesel", rated_torque=165.0))
    absent = ("shaft", "propeller", "gearbox.ahead", "gearbox.astern")
    assert not [key for key in engine_only if key.startswith(absent)]


def test_rated_torque_comes_exactly_from_rated_power() -> None:
    torque = fill(engine(4, 92, 98, "diesel", rated_power=45e3))["engine.rated_torque"]
    assert torque.low == torque.value == torque.high
    assert torque.value == pytest.approx(9549 * 45 / 2600, rel=1e-4)  # definition of power; 9549 is rounded


@pytest.mark.parametrize("fuel", ["diesel", "petrol"])
def test_the_working_cycle_starts_where_the_core_starts(fuel: str) -> None:
    filled = fill(engine(4, 92, 98, fuel))
    combustion = _core.default_combustion(_core.Fuel[fuel], 4)
    friction = _core.default_friction(_core.Fuel[fuel], 4, 0.098)
    for part, values in [("combustion", combustion), ("friction", friction)]:
        keys = [key for key in filled if key.startswith(f"engine.{part}.")]
        assert len(keys) == {"combustion": 9, "friction": 3}[part]
        for key in keys:
            assert filled[key].value == getattr(values, key.rpartition(".")[2])


@pytest.mark.parametrize("bad", [0, 0.0, -1.0, math.nan, math.inf, -math.inf])
def test_impossible_values_are_left_to_the_checks(bad: float) -> None:
    for key in LAUNCH:
        if isinstance(LAUNCH[key], str):
            continue
        for quantity in fill({**LAUNCH, key: bad}).values():
            assert all(math.isfinite(v) for v in (quantity.value, quantity.low, quantity.high)), key


def test_rules_for_one_key_stand_together_in_order_of_preference() -> None:
    runs = [key for key, _ in itertools.groupby(rule.key for rule in rules())]
    assert len(runs) == len(set(runs))
