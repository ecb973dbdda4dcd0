"""Life of a plate over its duty diary: its rules, stress to damage by second programs, directions of the trade."""

import json
import math
from dataclasses import replace

import fatpack
import numpy as np
import pytest
import rainflow as other_program
from typer.testing import CliRunner

import calmshaft as cs
from calmshaft.app import app
from calmshaft.diary import diary_of
from calmshaft.duty.life import SHIFT, START
from calmshaft.duty.life_words import condition_rows, plain, sentences
from calmshaft.duty.springs import spring_stress, steels
from calmshaft.judgement.fatigue import KNEE, SLOPE, stress_cycles
from calmshaft.output import json_ready
from calmshaft.workshop.plate_twist import plate_springs

LAUNCH = cs.sample_line("harbour-launch")
SPRUNG = LAUNCH.with_plate("plate-d")
SAME = 1e-9  # [-] the same sum in another order; damage is far below pytest's own 1e-12, so abs=0 stands beside it
CLASSES = 2**16  # of the wave's range, into which fatpack rounds turning points
TABLE = 1e-3  # [-] what that rounding may make of the tenth to nineteenth power of a range


def with_diary(line, conditions, **often):
    keys = ("name", "share", "rpm", "gear", "misfiring")
    entries = [dict(zip(keys, one, strict=False)) for one in conditions]
    return cs.line_from_document({**line.document, "diary": {"conditions": entries, **often}})


def faults_of(*conditions, **often):
    with pytest.raises(cs.LineError) as caught:
        with_diary(LAUNCH, conditions, **often)
    return caught.value.faults


# the diary


def test_a_diary_is_read_with_its_shares_and_what_is_not_said():
    line = with_diary(LAUNCH, [("idle", "40 %", 800, "neutral"), ("fast", "60 %", "2100 rpm", "ahead", "3@50%")],
                      shifts_per_hour=6)  # fmt: skip
    found = diary_of(line)
    assert [one.share for one in found.conditions] == pytest.approx([0.4, 0.6])
    assert found.conditions[1].at == cs.Condition(2100, "ahead", misfiring={3: 0.5})
    assert (found.shifts_per_hour, found.starts_per_hour, found.assumed) == (6.0, 0.0, False)
    assert not found.healthy
    assert line.core.plate.rated_torque == LAUNCH.core.plate.rated_torque
    assert line.paths() == LAUNCH.paths()  # the diary is no part of the motion


def test_without_one_a_usual_diary_is_assumed_and_said_to_be():
    found = diary_of(LAUNCH)
    assert found.assumed
    assert sum(one.share for one in found.conditions) == pytest.approx(1.0)
    assert [one.at.gear for one in found.conditions] == ["neutral", *["ahead"] * 4]
    ends_at_the_box = cs.line_from_document(
        {key: value for key, value in LAUNCH.document.items() if key not in ("shaft", "propeller")}
    )
    assert [one.at.gear for one in diary_of(ends_at_the_box).conditions] == ["neutral"]


@pytest.mark.parametrize(("share", "words"), [("50 %", "add up to 90 %: 10 % missing"), ("70 %", "10 % too much")])
def test_shares_that_do_not_add_up_are_refused_with_the_difference(share, words):
    faults = faults_of(("idle", "40 %", 800), ("fast", share, 2100))
    assert [fault.path for fault in faults] == ["diary.conditions"]
    assert words in faults[0].rule


def test_all_faults_of_a_diary_show_at_once():
    faults = faults_of(("a", "40 %", 800, "back"), ("a", "60 %", -1, "ahead", "9"), shifts_per_hour=-2)
    assert {fault.path for fault in faults} == {
        "diary.conditions[0].gear", "diary.conditions", "diary.conditions[1].rpm", "diary.conditions[1].misfiring",
        "diary.shifts_per_hour",
    }  # fmt: skip
    assert "cylinders 1 to 4" in next(fault.rule for fault in faults if fault.path.endswith("misfiring"))


def test_a_diary_without_conditions_is_told_what_to_write():
    with pytest.raises(cs.LineError, match=r"\[\[diary.conditions\]\] with name, share and rpm"):
        cs.line_from_document({**LAUNCH.document, "diary": {"shifts_per_hour": 3}})


# from stress to damage


@pytest.fixture(scope="module")
def swinging():
    """One period of stress in a spring with a dead cylinder, its steel, and how long it lasts [s]."""
    run = cs.steady(SPRUNG, cs.Condition(1450, misfiring=[3]))
    springs = plate_springs(SPRUNG)
    group = springs.groups[0]
    twist, time = run.signals["twist"].sel(coupling="plate").values, run.signals["time"].values
    return spring_stress(springs, group, twist), steels(group)[0], time[-1] - time[0]


def by_hand(cycles, steel):
    """Goodman, the two slopes of the life curve, Miner: written a second time. cycles: (range, mean, count)."""
    total = 0.0
    for width, mean, count in cycles:
        turned = width / 2 / (1 - max(mean, 0.0) / steel.shear_strength)
        ratio = turned / (steel.amplitude / (1 - steel.mean / steel.shear_strength))
        total += count * ratio ** (SLOPE.value if ratio > 1 else 2 * SLOPE.value - 1) / KNEE.value
    return total


def test_damage_of_a_real_stress_is_that_of_a_second_counting_program(swinging):
    # package rainflow (ASTM E1049-85); the period is closed from its peak to its peak, as ours is
    stress, steel, _ = swinging
    top = int(np.argmax(stress))
    closed = np.concatenate([stress[top:], stress[: top + 1]])
    theirs = [(width, mean, count) for width, mean, count, *_ in other_program.extract_cycles(closed)]
    assert by_hand(theirs, steel) == pytest.approx(steel.damage(stress_cycles(stress)), rel=SAME, abs=0)
    assert by_hand(theirs, steel) > 0


def test_damage_of_a_real_stress_is_that_of_a_third_program(swinging):
    # package fatpack: its four-point counting, Goodman correction, curve of two slopes and Miner sum
    stress, steel, _ = swinging
    curve = fatpack.BiLinearEnduranceCurve(steel.reversed_amplitude)
    curve.Nc = curve.Nd = KNEE.value
    curve.m1, curve.m2 = SLOPE.value, 2 * SLOPE.value - 1

    def damage(periods):
        wave = np.tile(stress[:-1], periods)
        widths, means = fatpack.find_rainflow_ranges(wave, k=CLASSES, return_means=True)
        alike = fatpack.find_goodman_equivalent_stress(widths / 2, means, steel.shear_strength)
        return float(curve.find_miner_sum(alike))

    one_period = damage(3) - damage(2)  # no ends in it
    assert one_period == pytest.approx(steel.damage(stress_cycles(stress)), rel=TABLE, abs=0)


def test_each_condition_uses_up_its_share_of_the_hours(swinging):
    stress, steel, period = swinging
    line = with_diary(SPRUNG, [("slow", "30 %", 950, "ahead"), ("shaking", "70 %", 1450, "ahead", "3")])
    found = cs.plate_life(line)
    diary = found.own.springs[0][1]
    # closed form: damage of one period, times how often it comes in 70 of 100 hours
    by_condition = diary.damage_by_duty(steel)
    assert by_condition["shaking"] == pytest.approx(
        steel.damage(stress_cycles(stress)) * 70 * 3600 / period, rel=SAME, abs=0
    )
    assert sum(found.used.values()) == pytest.approx(1.0)
    assert found.used["shaking"] > 0.99


def test_a_shift_is_counted_by_its_history_as_often_as_it_comes():
    line = with_diary(SPRUNG, [("slow", "100 %", 950, "ahead")], shifts_per_hour=4, starts_per_hour=0.5)
    springs = plate_springs(line)
    diary, pair = cs.plate_life(line).own.springs[1][1:]
    for manoeuvre, name, often in ((SHIFT, "shifts", 4), (START, "starts", 0.5)):
        twist = cs.simulate(line, manoeuvre).signals["twist"].sel(coupling="plate").values
        one = pair[0].damage(stress_cycles(spring_stress(springs, springs.groups[1], twist)))
        assert diary.damage_by_duty(pair[0])[name] == pytest.approx(one * often * 100, rel=SAME, abs=0)


def test_swings_of_shift_and_start_have_died_down_at_the_end_of_their_record():
    # three times as long a record uses up hardly more: the rest is idling, which has hours of its own
    springs = plate_springs(SPRUNG)
    group = springs.groups[0]
    steel = steels(group)[0]
    for short, long in ((SHIFT, cs.Engage(at=0.1, duration=6.0)), (START, cs.Start(duration=7.5))):
        damage = [steel.damage(stress_cycles(spring_stress(
            springs, group, cs.simulate(SPRUNG, one).signals["twist"].sel(coupling="plate").values)))
            for one in (short, long)]  # fmt: skip
        assert damage[1] == pytest.approx(damage[0], rel=0.02, abs=0)


# directions of the trade; common practice, no source: directions are checked, not digits


def heavier(plate):
    """The plate's springs wound of wire a sixth thicker, to the same rate and so wider, in longer windows."""
    springs = []
    for one in plate["springs"]:
        wire, outer = (float((v["value"] if isinstance(v, dict) else v).split()[0])
                       for v in (one["wire_diameter"], one["coil_outer_diameter"]))  # fmt: skip
        thick = wire * 7 / 6
        mean = (outer - wire) * (7 / 6) ** (4 / 3)  # rate = G d^4 / (8 D^3 n)
        longer = {key: f"{float(one[key].split()[0]) + 6} mm" for key in ("free_length", "window_length") if key in one}
        springs.append({**one, **longer, "wire_diameter": f"{thick} mm", "coil_outer_diameter": f"{mean + thick} mm"})
    return {**plate, "title": "plate D with heavier springs", "springs": springs}


def test_heavier_springs_in_larger_windows_last_longer_in_the_same_line():
    found = cs.plate_life(LAUNCH.with_plate(heavier(SPRUNG.document["plate"])), "plate-d")
    assert found.own.line.core.plate.drive.stages[0].stiffness == pytest.approx(
        SPRUNG.core.plate.drive.stages[0].stiffness, rel=1e-6
    )  # so that they feel the same motion
    assert found.springs.low > 1
    assert found.springs.relative > 10
    assert found.work == pytest.approx(1.0, rel=0.02, abs=0)


@pytest.mark.parametrize("weak", ["3@50%", "2@50%+3@50%", "3"])
def test_a_healthy_line_lives_longer_than_one_run_around_2100_rpm_with_weak_cylinders(weak):
    # the plate that came apart in under 500 h: 2,000 to 2,200 rpm, weak cylinders suspected
    hours = [("idle", "10 %", 800, "ahead", weak), ("slow", "45 %", 2000, "ahead", weak),
             ("fast", "45 %", 2200, "ahead", weak)]  # fmt: skip
    found = cs.plate_life(with_diary(SPRUNG, hours))
    assert found.reference.diary.healthy
    assert found.springs.high < 0.5
    assert found.work > 1.2
    with_starts = cs.plate_life(with_diary(SPRUNG, hours, shifts_per_hour=4, starts_per_hour=0.5))
    assert with_starts.springs.relative < 1


@pytest.mark.parametrize("plate", ["plate-b", "plate-c", "plate-d"])
def test_a_weak_cylinder_raises_the_work_that_the_plate_does_over_the_usual_diary(plate):
    line = LAUNCH.with_plate(plate)
    half, dead = (cs.plate_life(line, misfiring=label).work for label in ("3@50%", "3"))
    assert 1 < half < dead


def test_starts_and_shifts_count_more_than_quiet_cruising():
    found = cs.plate_life(SPRUNG)
    assert found.used["starts"] + found.used["shifts"] > found.used["cruise"]


# what is told


def test_hours_are_a_band_and_an_estimate_and_come_last():
    text = list(sentences(cs.plate_life(SPRUNG, misfiring="3")))
    told = next(place for place, one in enumerate(text) if one.startswith("In hours a band only, an estimate"))
    compared = next(place for place, one in enumerate(text) if "as long as the reference's" in one)
    assert compared < told
    assert "assumed (common practice, no source)" in text[-1]
    assert "one engagement ahead" in text[-1]


def test_a_plate_by_its_stages_is_told_to_enter_its_springs_and_keeps_its_work():
    found = cs.plate_life(LAUNCH, "plate-c")
    assert found.springs is None
    assert "enter the springs" in found.why_not
    assert "for the reference" not in found.why_not
    assert found.work > 1
    assert len(condition_rows(found)[0]) == 8
    assert any(one.startswith("Springs: not judged") for one in sentences(found))


def test_springs_that_outlast_plates_are_not_taken_for_the_life_of_the_plate():
    # a plate lives 1,500 to 2,500 h in a healthy line: common practice, no source
    found = cs.plate_life(SPRUNG)
    told = next(one for one in sentences(found) if one.startswith("In hours"))
    assert found.springs.hours_low > 2500
    assert "of the springs alone" in told
    worn = replace(found, springs=replace(found.springs, hours_low=900.0))
    assert "of the springs alone" not in next(one for one in sentences(worn) if one.startswith("In hours"))


def test_springs_that_only_the_reference_lacks_are_asked_of_the_reference():
    found = cs.plate_life(SPRUNG, "plate-c")
    assert found.why_not.startswith("not judged, for the reference: ")
    assert "enter the springs" in found.why_not


def test_works_that_hardly_differ_are_called_alike():
    told = list(sentences(cs.plate_life(with_diary(LAUNCH, [("cruise", "100 %", 2100, "ahead", "3@99%")]))))
    assert any("about as much" in one and "about as long" in one for one in told)


def test_a_condition_without_an_answer_leaves_lives_unjudged_with_its_reason():
    stalls = with_diary(SPRUNG, [("stalls", "50 %", 150, "ahead", "1+2+3"), ("fast", "50 %", 2100)])
    found = cs.plate_life(stalls)
    assert found.own.lost
    assert found.why_not.startswith("not judged: stalls: ")
    assert math.isnan(found.work)
    json.dumps(json_ready(plain(found)), allow_nan=False)


def test_life_prints_the_diary_and_its_json_is_the_same():
    text = CliRunner().invoke(app, ["life", "harbour-launch", "--reference", "plate-c"])
    assert text.exit_code == 5  # plates given by stages: their springs are not judged
    assert "Springs: not judged" in text.stdout
    assert "Compared with plate C" in text.stdout
    document = json.loads(CliRunner().invoke(app, ["life", "harbour-launch", "--misfiring", "3", "--json"]).stdout)
    assert document["diary"]["assumed"]
    assert document["work_over_reference"] > 1
    assert [one["misfiring"] for one in document["diary"]["conditions"]] == ["3"] * 5


def test_life_refuses_names_and_faults_at_once():
    result = CliRunner().invoke(app, ["life", "harbour-lunch", "--misfiring", "x"])
    assert result.exit_code == 2
    assert "harbour-launch" in result.stderr
    assert "must name cylinders" in result.stderr


def test_the_diary_in_the_sample_file_can_be_put_to_use_as_it_stands(tmp_path):
    from calmshaft.line import LINES

    text = (LINES / "harbour-launch.toml").read_text()
    before, _, comments = text.partition("# [diary]")
    written = "\n".join(line.removeprefix("#").removeprefix(" ") for line in ("# [diary]" + comments).splitlines())
    path = tmp_path / "launch.toml"
    path.write_text(before + written)
    found = diary_of(cs.load_line(path))
    assert [(one.name, one.at.misfiring) for one in found.conditions] == [("idle ahead", "none"), ("cruise", "3@50%")]
    assert not found.assumed
