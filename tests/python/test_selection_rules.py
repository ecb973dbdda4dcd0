"""Couplings, shafts and gears are judged by what was entered, and by nothing that was not."""

import math

import pytest

import calmshaft as cs
from calmshaft.judgement import couplings, gears, shafts

DUTY = couplings.CouplingDuty(150.0, 80.0, 40.0, 12.0, 0.5, 0.1, temperature_factor=1.2)
RATING = couplings.CouplingRating(250.0, 600.0, 60.0, 4000.0, 0.8, "maker's sheet, invented", heat=30.0)
STEEL = shafts.PropulsionShaft("carbon-manganese steel", 0.04, "keyway in a taper", 500e6, applies=True)


def by_subject(selection):
    return {one.subject: one for one in selection.judgements}


def test_a_coupling_is_held_to_its_makers_sheet():
    judged = by_subject(couplings.select_coupling(DUTY, RATING))
    nominal = judged["nominal torque of the coupling"]
    assert (nominal.word, nominal.value, nominal.limit) == ("within", 180.0, 250.0)
    assert "maker's sheet, invented" in nominal.document
    assert "from memory" in nominal.finding
    # by hand: 80 x 1/6 x V(40/12) x 1.2 x 2
    swing = 80 / 6 * couplings.magnifier(40 / 12, 0.8) * 1.2 * 2
    assert judged["alternating torque of the coupling"].value == pytest.approx(swing, rel=1e-12)
    small = couplings.CouplingRating(170.0, 200.0, 1.0, 4000.0, 0.8, "maker's sheet, invented")
    words = {subject: one.word for subject, one in by_subject(couplings.select_coupling(DUTY, small)).items()}
    assert set(words.values()) == {"over", "not judged"}
    assert words["dissipated heat of the coupling"] == "not judged"


def test_every_figure_says_document_clause_and_how_its_text_was_had():
    for figure in couplings.select_coupling(DUTY, RATING).figures:
        assert figure.source.document
        assert figure.source.clause
        assert figure.source.text in str(figure)
        assert figure.equation


def test_the_heat_is_the_loop_that_the_definition_draws():
    # second way: energy of one loop is psi x the stored energy at the amplitude of twist T / |C (1 + i psi / 2 pi)|
    psi, stiffness, torque, frequency = 0.8, 5000.0, 100.0, 20.0
    twist = torque / abs(stiffness * complex(1, psi / math.tau))
    by_loop = frequency * psi * 0.5 * stiffness * twist**2
    assert couplings.dissipated_power(frequency, psi, torque, stiffness) == pytest.approx(by_loop, rel=1e-12)


def test_a_shaft_is_judged_only_where_the_user_says_that_the_rule_applies():
    plain = shafts.PropulsionShaft("carbon-manganese steel", 0.04, "keyway in a taper", 500e6)
    assert shafts.judge_shaft(plain, 0.5, 1e6).word == "not judged"
    assert "nobody said" in shafts.judge_shaft(plain, 0.5, 1e6).finding
    judged = shafts.judge_shaft(STEEL, 0.5, 20e6)
    assert judged.word == "within"
    assert "from memory" in judged.document


@pytest.mark.parametrize(
    ("shaft", "ratio", "passing", "reason"),
    [
        (shafts.PropulsionShaft("stainless", 0.04, "shrink fit", 600e6, True), 0.5, False, "stainless is outside"),
        (shafts.PropulsionShaft("alloy steel", 0.04, "shrink fit", None, True), 0.5, False, "is not entered"),
        (STEEL, 1.2, False, "beyond the rule"),
        (STEEL, 0.85, True, "no quick passing"),
    ],
)
def test_what_the_rule_does_not_cover_is_not_judged_with_the_reason(shaft, ratio, passing, reason):
    judged = shafts.judge_shaft(shaft, ratio, 1e6, passing)
    assert judged.word == "not judged"
    assert reason in judged.finding
    assert math.isnan(judged.limit)


def test_the_words_follow_the_limit():
    limit = shafts.continuous_stress(STEEL, 0.6).value
    words = [shafts.judge_shaft(STEEL, 0.6, share * limit).word for share in (0.5, 0.95, 1.0)]
    assert words == ["within", "near", "over"]


def test_strength_counts_up_to_its_cap():
    def stress(material, shape, strength):
        one = shafts.PropulsionShaft(material, 0.04, shape, strength, applies=True)
        return shafts.continuous_stress(one, 0.5).value

    assert stress("carbon-manganese steel", "shrink fit", 700e6) == stress(
        "carbon-manganese steel", "shrink fit", 600e6
    )
    assert stress("alloy steel", "shrink fit", 700e6) > stress("alloy steel", "shrink fit", 600e6)
    keyed = "propeller shaft, keyed"
    assert stress("alloy steel", keyed, 700e6) == stress("alloy steel", keyed, 600e6)


def test_a_barred_range_holds_its_critical_speed_and_none_lies_near_rated_speed():
    low, high = shafts.barred_range(1000.0, 2000.0)
    assert (low, high) == (16000 / 17.5, 17500 / 16)  # by the formula, by hand
    assert shafts.barred_range(1700.0, 2000.0) is None


def test_mesh_limits_come_from_the_user_alone():
    limit = gears.MeshLimit("vibratory", 0.3, 250.0, "a rule book, invented", lowest=0.9, highest=1.05)
    judged = gears.judge_mesh(limit, 200.0, 80.0, 1.0)
    assert (judged.word, judged.value, judged.limit) == ("over", 80.0, 75.0)
    assert "a rule book, invented" in judged.document
    assert gears.judge_mesh(limit, 200.0, 80.0, 0.5).word == "not judged"
    both = gears.MeshLimit("mean and vibratory", 4 / 3, 250.0, "a rule book, invented")
    assert gears.judge_mesh(both, -200.0, 80.0, 0.5).value == 280.0  # astern counts by its size
    with pytest.raises(cs.LineError) as caught:
        gears.MeshLimit("vibrating", 0.0, 250.0, " ")
    assert [fault.path for fault in caught.value.faults] == ["form", "factor", "document"]


def test_teeth_part_where_the_vibratory_torque_exceeds_the_mean():
    assert [gears.judge_hammer(-100.0, value).word for value in (50.0, 95.0, 101.0)] == ["within", "near", "over"]
