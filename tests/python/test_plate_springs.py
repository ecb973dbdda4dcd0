"""Plates measured by their springs: the curve by two routes, what wear does, and what is refused."""

import math

import numpy as np
import pytest

import calmshaft as cs
from calmshaft import _core
from calmshaft.workshop import plate_springs

DEGREE = math.pi / 180
LAUNCH = cs.sample_line("harbour-launch")
D = LAUNCH.with_plate("plate-d")
ONE = {"count": 6, "wire_diameter": "4 mm", "coil_outer_diameter": "24 mm", "total_coils": 7, "free_length": "46 mm",
       "pitch_radius": "70 mm"}  # fmt: skip
ROUND_OFF = 1e-9  # the two routes add the same numbers in another order


def plate(*changes, **whole):
    """A [plate] of springs, each like ONE but for the changes; None takes a key away."""
    entries = [{key: value for key, value in {**ONE, **change}.items() if value is not None} for change in changes]
    return {"springs": entries, **whole}


def by_hand(twist, gap=0.0, wire=4e-3, coil=24e-3, active=5, count=6, radius=0.07):
    """Torque [N m] of alike springs in drive, written out; gap [m]."""
    rate = 79e9 * wire**4 / (8 * (coil - wire) ** 3 * active)
    return count * radius * rate * max(radius * twist - gap, 0.0)


@pytest.mark.parametrize("side", ["drive", "coast"])
@pytest.mark.parametrize("name", ["plate-d", "gap", "squeezed", "lash"])
def test_the_stages_carry_what_the_single_springs_carry(name, side):
    made = {"plate-d": "plate-d", "gap": plate({"window_length": "48 mm"}, {"drive_gap": "4 mm", "coast_gap": "3 mm"}),
            "squeezed": plate({"preload": "2 mm"}), "lash": plate({}, free_play="0.8 deg")}  # fmt: skip
    line, springs = LAUNCH.with_plate(made[name] if name != "plate-d" else name), plate_springs(made[name])
    sign, of = (1, line.core.plate.drive) if side == "drive" else (-1, line.core.plate.coast)
    for twist in np.linspace(0, springs.stop(side), 101):
        stages = _core.elastic_torque(of, line.core.plate.free_play, twist)
        assert abs(springs.torque(sign * twist)) == pytest.approx(stages, rel=ROUND_OFF, abs=1e-9)


def test_springs_with_a_gap_are_a_free_play_of_twice_the_gap_and_then_their_rate():
    line = LAUNCH.with_plate(plate({"window_length": "47 mm"}))
    half = 1e-3 / 0.07
    assert line.core.plate.free_play == pytest.approx(2 * half)
    torque = _core.elastic_torque(line.core.plate.drive, line.core.plate.free_play, 0.1)
    assert torque == pytest.approx(by_hand(0.1, gap=1e-3), rel=1e-12)


def test_unequal_gaps_move_the_middle_of_the_free_play_between_them():
    made = plate_springs(plate({"drive_gap": "2 mm", "coast_gap": "1 mm"}, {"drive_gap": "5 mm", "coast_gap": "5 mm"}))
    assert made.free_play == pytest.approx(3e-3 / 0.07)
    assert made.stages("drive")[0].until == pytest.approx(1.5e-3 / 0.07 + 3e-3 / 0.07)
    assert made.stages("coast")[0].until == pytest.approx(1.5e-3 / 0.07 + 4e-3 / 0.07)


def test_a_preload_stands_behind_its_steep_step_and_is_told():
    made = plate_springs(plate({"preload": "2 mm"}))
    step = 0.1 * 2e-3 / 0.07
    assert made.stages("drive")[0].until == pytest.approx(step)
    assert made.torque(step) == pytest.approx(by_hand(step + 2e-3 / 0.07), rel=ROUND_OFF)
    assert made.torque(0.05) == pytest.approx(by_hand(0.05 + 2e-3 / 0.07), rel=ROUND_OFF)


def test_solid_springs_stop_the_plate_at_the_angle_of_the_free_length():
    """SP-12: (L0 - Ls)/R; Ls is 7 wires of 4 mm."""
    line = LAUNCH.with_plate(plate({}))
    assert line.core.plate.drive.stop_angle == pytest.approx((46 - 28) / 70)
    load = plate_springs(plate({})).at(18 / 70)[0]
    assert load.solid
    assert load.compression == pytest.approx(18e-3)
    assert not plate_springs(plate({})).at(17 / 70)[0].solid


def test_a_hub_stop_beyond_solid_springs_gives_way_to_them_with_a_warning():
    line = LAUNCH.with_plate(plate({}, stop_angle="20 deg"))
    assert line.core.plate.drive.stop_angle == pytest.approx(18 / 70)
    (told,) = [line.explain(fault) for fault in line.warnings if fault.path == "plate.stop_angle"]
    assert "beyond where the coils of springs 1 touch on the drive side, at 14.73 deg" in told
    earlier = LAUNCH.with_plate(plate({}, stop_angle="12 deg"))
    assert earlier.core.plate.drive.stop_angle == pytest.approx(12 * DEGREE)
    assert not [fault for fault in earlier.warnings if fault.path == "plate.stop_angle"]


def test_force_and_stress_of_one_spring_by_hand():
    load = plate_springs(plate({})).at(0.1)[0]
    rate = 79e9 * 4e-3**4 / (8 * 20e-3**3 * 5)
    assert load.force == pytest.approx(rate * 7e-3)
    assert load.shear_stress == pytest.approx((4 * 5 + 2) / (4 * 5 - 3) * 8 * load.force * 20e-3 / (math.pi * 4e-3**3))


@pytest.mark.parametrize(
    ("condition", "share"),
    [("missing", 5 / 6), ("corroded", (5 + 0.95**4 * (20 / 20.2) ** 3) / 6), ("broken", (5 + 5 / 4) / 6)],
)
def test_wear_of_one_spring_of_six_in_the_rate_of_all(condition, share):
    """k = G d^4/(8 D^3 n); all six are touched at 0.2 rad, the broken one later."""
    worn = plate_springs(
        plate({"count": 5}, {"count": 1, "condition": condition, "drive_gap": "0 mm", "coast_gap": "0 mm"})
    )
    sound = plate_springs(plate({})).stages("drive")[0].stiffness
    assert worn.stages("drive")[-1].stiffness / sound == pytest.approx(share, rel=1e-12)
    line = LAUNCH.with_plate(plate({"count": 5}, {"count": 1, "condition": condition}))
    assert any(f"is {condition}" in line.explain(fault) for fault in line.warnings)


def test_a_loose_spring_keeps_no_preload_and_is_touched_later():
    made = plate_springs(plate({"count": 5, "preload": "1 mm"}, {"count": 1, "preload": "1 mm", "condition": "loose"}))
    assert made.groups[1].drive.gap == pytest.approx(1e-3)
    assert made.groups[1].drive.preload == 0


def test_a_broken_spring_loses_the_preload_that_its_length_gave():
    """A coil of the pitch 4 mm + 18 mm/5 = 7.6 mm is missing, 1 mm of it was squeezed; a measured gap stays."""
    sound = {"count": 1, "preload": "1 mm", "condition": "broken"}
    made = plate_springs(plate({"count": 4}, sound, {**sound, "drive_gap": "2 mm"}))
    assert [group.drive.preload for group in made.groups] == [0, 0, 0]
    assert [group.drive.gap for group in made.groups] == pytest.approx([0, 6.6e-3, 2e-3])


def test_a_spring_too_thick_for_its_coil_is_told_once_not_again_for_the_spring_inside():
    outer = {"name": "outer", "coil_outer_diameter": "7 mm"}
    inner = {"inside": "outer", "coil_outer_diameter": "17 mm", "wire_diameter": "2 mm"}
    with pytest.raises(cs.LineError) as caught:
        LAUNCH.with_plate(plate(outer, inner))
    assert [fault.path for fault in caught.value.faults] == ["plate.springs[0].coil_outer_diameter"]


def test_what_follows_carries_rule_and_range():
    quantity = D.quantities["plate.stages[0].stiffness"]
    assert quantity.source == "derived"
    assert "calipers" in quantity.rule
    assert 0.02 < quantity.high / quantity.value - 1 < 0.1
    unsure = LAUNCH.with_plate(plate({})).quantities["plate.stages[0].stiffness"]
    assert unsure.high / unsure.value - 1 == pytest.approx(0.15)
    assert D.quantities["plate.springs[0].wire_diameter"].as_written == "3.2 mm"


def test_a_wire_can_be_varied_and_the_last_slope_too():
    thicker = D.replace({"plate.springs[0].wire_diameter": "3.52 mm"})
    before, after = (line.core.plate.drive.stages[0].stiffness for line in (D, thicker))
    assert after / before == pytest.approx(1.1**4 * (18.8 / 18.48) ** 3)
    table = cs.sweep(D, {"plate.stiffness": ([15, 25], "N*m/deg"), "rpm": [1000]}, cs.Condition(1000, "neutral"))
    assert [str(value) for value in table["status"].values.ravel() if value > 2] == []
    same = D.replace({"plate.stages[3].stiffness": f"{D.core.plate.drive.stages[3].stiffness * DEGREE!r} N*m/deg"})
    for side in ("drive", "coast"):
        ours, theirs = (getattr(line.core.plate, side) for line in (D, same))
        assert [s.stiffness for s in ours.stages] == pytest.approx([s.stiffness for s in theirs.stages])
        assert ours.stop_angle == pytest.approx(theirs.stop_angle)


REFUSED = [
    ({"coil_outer_diameter": "7.9 mm"}, "coil_outer_diameter is 7.9 mm: is not more than twice the wire of 4 mm"),
    ({"coil_outer_diameter": "11 mm"}, "coil_outer_diameter is 11 mm: is under three times the wire of 4 mm"),
    ({"total_coils": 12}, "free_length is 46 mm: holds no more than its 12 coils of 4 mm: solid they are 48 mm"),
    ({"total_coils": 2.5}, "total_coils is 2.5: leaves 0.5 coils to work"),
    ({"total_coils": None}, "active_coils is missing; count the coils that work"),
    ({"window_length": "27 mm"}, "window_length is 27 mm: is no longer than the solid spring of 28 mm"),
    ({"wire_diameter": "4 in"}, "wire_diameter is 101.6 mm: is no wire of a damper spring: 0.5 mm to 16 mm is usual"),
    ({"wire_diameter": "0.16 mm"}, "wire_diameter is 0.16 mm: is no wire of a damper spring"),
    ({"pitch_radius": "70 in"}, "pitch_radius is 1778 mm: is none of a damper plate: 15 mm to 400 mm is usual"),
    ({"pitch_radius": "2.75 mm"}, "pitch_radius is 2.75 mm: is none of a damper plate"),
    ({"count": 12}, "count is 12: do not fit on a circle of radius 70 mm"),
    ({"preload": "18 mm"}, "preload is 18 mm: squeezes the spring solid"),
    ({"drive_gap": "-1 mm"}, "drive_gap is -1 mm: must not be negative"),
    ({"free_length": None}, "free_length is missing; take the spring out of its window"),
    ({"inside": "main"}, 'inside is "main": is no other entry'),
    ({"wire_diametre": "4 mm"}, 'wire_diametre is not a key of [plate.springs[0]]; did you mean "wire_diameter"?'),
]


@pytest.mark.parametrize(("change", "message"), REFUSED, ids=[str(change) for change, _ in REFUSED])
def test_measures_that_cannot_be_true_are_told_with_what_to_measure_again(change, message):
    for refused in (lambda: plate_springs(plate(change)), lambda: LAUNCH.with_plate(plate(change))):
        with pytest.raises(cs.LineError) as caught:
            refused()
        assert str(caught.value).removeprefix("harbour-launch.toml: ").startswith(f"plate.springs[0].{message}")
        assert len(caught.value.faults) == 1


def test_all_faults_of_all_springs_are_told_at_once():
    with pytest.raises(cs.LineError) as caught:
        LAUNCH.with_plate(plate({"wire_diameter": "4 kg"}, {"coil_outer_diameter": "7 mm"}, {"window_length": "20 mm"}))
    told = [fault.path for fault in caught.value.faults]
    assert told == [
        "plate.springs[0].wire_diameter",
        "plate.springs[1].coil_outer_diameter",
        "plate.springs[2].window_length",
    ]


def test_one_form_only_and_a_spring_inside_another_must_fit():
    two = plate({}, stages=[{"stiffness": "9 N*m/deg"}])
    with pytest.raises(cs.LineError, match=r"plate.springs says the same as plate.stages; keep one of"):
        LAUNCH.with_plate(two)
    thick = plate({"name": "outer"}, {"inside": "outer", "coil_outer_diameter": "17 mm", "wire_diameter": "2 mm"})
    with pytest.raises(cs.LineError, match="does not fit into outer, which leaves 16 mm"):
        LAUNCH.with_plate(thick)
    with pytest.raises(cs.LineError, match=r"free_play is 1 deg: is less than the springs' gaps leave, which is 1.637"):
        LAUNCH.with_plate(plate({"window_length": "47 mm"}, free_play="1 deg"))


def test_a_plate_of_stages_has_no_springs_to_look_at():
    with pytest.raises(cs.LineError, match=r"plate.springs are not measured"):
        plate_springs("plate-b")


MIXED = ["good", "loose", "broken", "good", "missing", "corroded"]


def test_springs_of_mixed_condition_carry_what_entries_of_their_own_would():
    """Second route: the same six springs, each condition an entry by itself."""
    gaps = {"drive_gap": "0.2 mm", "coast_gap": "0.4 mm"}
    mixed = plate_springs(plate({**gaps, "condition": "mixed", "conditions": MIXED}))
    apart = plate_springs(
        plate({**gaps, "count": 2}, *({**gaps, "count": 1, "condition": one} for one in MIXED if one != "good"))
    )
    for twist in np.linspace(-0.2, 0.2, 41):
        assert mixed.torque(twist) == pytest.approx(apart.torque(twist), rel=ROUND_OFF, abs=1e-9)
    assert [(group.condition, group.count) for group in mixed.groups] == [
        ("good", 2), ("loose", 1), ("broken", 1), ("missing", 1), ("corroded", 1)
    ]  # fmt: skip


def test_a_mixed_condition_is_told_spring_by_spring_and_runs():
    line = LAUNCH.with_plate(plate({"name": "mains", "condition": "mixed", "conditions": MIXED}))
    told = " ".join(line.explain(fault) for fault in line.warnings)
    for word in ("loose", "broken", "missing", "corroded"):
        assert f"(mains, 1 of 6) is {word}" in told
    assert "is good" not in told
    sound = LAUNCH.with_plate(plate({"name": "mains"}))
    at = cs.Condition(800, "ahead")
    torque = [cs.steady(one, at).best("mesh_torque_vibratory") for one in (line, sound)]
    assert torque[0] != torque[1]


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"condition": "mixed"}, "missing for a mixed condition"),
        ({"condition": "mixed", "conditions": ["good", "loose"]}, "2 words for 6 springs"),
        ({"condition": "loose", "conditions": MIXED}, "mixed"),
        ({"conditions": MIXED}, "mixed"),
        ({"condition": "mixed", "conditions": ["good"] * 5 + ["rusty"]}, "rusty"),
        ({"condition": "mixed", "conditions": ["missing"] * 6}, "are all missing"),
    ],
)
def test_a_mixed_condition_that_says_too_little_or_too_much_is_refused(change, words):
    with pytest.raises(cs.LineError, match=words):
        LAUNCH.with_plate(plate(change))


def test_too_many_kinds_of_mixed_springs_are_refused():
    mixed = {"condition": "mixed", "conditions": MIXED}
    with pytest.raises(cs.LineError, match="more than 6 kinds"):
        LAUNCH.with_plate(plate(mixed, mixed))


def test_mixed_springs_inside_others_lie_one_after_the_other():
    """Of three inner springs two are good and one is missing: three windows hold three springs, none two."""
    from calmshaft.plots.plate_front import places

    inner = {"inside": "mains", "count": 3, "wire_diameter": "2 mm", "coil_outer_diameter": "12 mm"}
    made = plate({"name": "mains", "count": 3},
                 {**inner, "condition": "mixed", "conditions": ["good", "missing", "good"]})  # fmt: skip
    found = [(group.name, angle) for _, group, angle in places(plate_springs(made))]
    assert len(found) == len(set(found)) == 6
