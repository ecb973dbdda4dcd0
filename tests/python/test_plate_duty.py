"""What a plate lives through in a steady run: stages, stop, heat and springs, each by a second way."""

import json
import math
from dataclasses import replace

import numpy as np
import pytest
from typer.testing import CliRunner

import calmshaft as cs
from calmshaft.app import app
from calmshaft.duty import heat, springs, stages
from calmshaft.duty.words import plain, sentences, spring_rows
from calmshaft.judgement import judge
from calmshaft.output import json_ready
from calmshaft.plots.plate import loop_work
from calmshaft.workshop.plate_twist import plate_springs

LAUNCH = cs.sample_line("harbour-launch")
SPRUNG = LAUNCH.with_plate("plate-d")
SPRINGS = plate_springs(SPRUNG)
SAMPLING = 2e-3  # [-] of a share: a band's edge falls between two samples


@pytest.fixture(scope="module")
def idle():
    return cs.steady(LAUNCH, cs.Condition(800))


@pytest.fixture(scope="module")
def sprung():
    return cs.steady(SPRUNG, cs.Condition(1450, misfiring=[1]))


def test_time_on_each_stage_of_a_triangle_wave_is_its_part_of_the_travel():
    # closed form: a triangle wave spends equal times on equal parts of its travel; plate C has its corner at 6 deg
    plate = stages.alone(LAUNCH.with_plate("plate-c"))
    time = np.linspace(0, 1, 4001)
    twist = np.radians(-6.0 + 15.0 * np.abs(2 * time - 1))
    found = stages.shares(plate, twist, time)
    wanted = {"coast, stage 1": 5.7 / 15, "free play": 0.6 / 15, "drive, stage 1": 5.7 / 15, "drive, stage 2": 3 / 15}
    assert {name: share for name, share in found.items() if share} == pytest.approx(wanted, abs=SAMPLING)
    assert sum(found.values()) == pytest.approx(1.0, abs=1e-12)


def test_hits_of_the_stop_are_counted_by_side():
    stop = math.radians(8)
    twist = 1.01 * stop * np.sin(np.linspace(0, 6 * math.pi, 3000))  # three whole swings
    assert stages.stop_hits(stages.alone(LAUNCH), twist) == {"drive": 3, "coast": 3}
    assert stages.stop_hits(stages.alone(LAUNCH), 0.9 * twist) == {"drive": 0, "coast": 0}


def test_time_on_the_stop_agrees_with_the_meter_of_the_integration():
    line = LAUNCH.replace({"plate.stop_angle": "3 deg", "plate.stages[0].until": "3 deg"})
    run = cs.steady(line, cs.Condition(800))
    duty = cs.plate_duty(run)
    on_stop = sum(share for name, share in duty.shares.items() if name.endswith("on the stop"))
    assert on_stop > 0.005
    assert on_stop == pytest.approx(run.measures["plate_stop_share"], rel=0.1)  # 8 cycles of those measured
    assert duty.stop_hits["drive"] >= 1
    assert "hits its stop" in " ".join(sentences(duty))


def test_heat_is_the_area_of_the_loop(sprung):
    duty = cs.plate_duty(sprung)
    twist, torque = (sprung.signals[name].sel(coupling="plate").values for name in ("twist", "torque"))
    by_loop = loop_work(twist, torque) / float(np.ptp(sprung.signals["time"].values))
    assert duty.heat_power == pytest.approx(by_loop, rel=0.01)
    assert 0 < duty.friction_power < duty.heat_power


def test_stress_over_twist_is_that_of_the_plate_by_itself():
    # second way: PlateSprings.at, twist by twist; it knows no squeeze that stays in the window
    twist = np.random.default_rng(1).uniform(-SPRINGS.stop("coast"), SPRINGS.stop("drive"), 200)
    for place, group in enumerate(SPRINGS.groups):
        kept = group.spring.shear_stress(group.spring.rate * group.drive.preload)
        by_hand = [max(SPRINGS.at(one)[place].shear_stress, kept) for one in twist]
        assert springs.spring_stress(SPRINGS, group, twist) == pytest.approx(by_hand, rel=1e-9, abs=1.0)


def test_a_spring_squeezed_in_its_window_keeps_its_stress_when_the_hub_leaves_it():
    main = SPRINGS.groups[1]
    left = springs.spring_stress(SPRINGS, main, np.zeros(3))
    assert left == pytest.approx(main.spring.shear_stress(main.spring.rate * 0.6e-3))
    assert (left > 0).all()


def test_a_sine_of_twist_gives_one_cycle_and_goodmans_safety():
    time = np.linspace(0, 1, 721)
    twist = math.radians(9) + math.radians(2) * np.sin(2 * math.pi * time)
    main = springs.spring_duties(SPRINGS, twist, time)[1]
    group = SPRINGS.groups[1]
    swing = group.spring.shear_stress(group.spring.rate * group.pitch_radius * math.radians(2))
    assert main.amplitude == pytest.approx(swing, rel=1e-4)
    # Zimmerli's unpeened point 241 at 379 MPa and S_su = 0.67 R_m, as in judgement/fatigue (values from memory)
    shear = 0.67 * main.strength
    reversed_amplitude = 241e6 / (1 - 379e6 / shear)
    assert main.safety[0] == pytest.approx(1 / (main.amplitude / reversed_amplitude + main.mean / shear), rel=1e-6)
    assert main.safety[1] > main.safety[0]


def test_rust_and_an_unknown_wire_are_told():
    plate = SPRUNG.document["plate"]
    rusty = {**plate, "springs": [{**one, "condition": "corroded"} for one in plate["springs"]]}
    unknown = {**plate, "springs": [{k: v for k, v in one.items() if k != "material"} for one in plate["springs"]]}
    time = np.linspace(0, 1, 181)
    twist = math.radians(8) + math.radians(3) * np.sin(2 * math.pi * time)
    good, worn, odd = (springs.spring_duties(plate_springs(one), twist, time)[0] for one in (plate, rusty, unknown))
    assert worn.safety[0] < 0.6 * good.safety[0]
    assert math.isnan(odd.strength)
    assert "not judged" in odd.words
    assert "material" in odd.words


def test_coils_that_touch_are_over_and_their_share_of_time_is_told():
    bind = SPRINGS.bind_angle("drive")
    time = np.linspace(0, 1, 1001)
    found = springs.spring_duties(SPRINGS, np.where(time < 0.25, bind + 1e-4, 0.1), time)
    solid = max(found, key=lambda one: one.solid_share)
    assert solid.solid_share == pytest.approx(0.25, abs=SAMPLING)
    assert solid.words == "over: coils touch"


def test_warming_is_heat_over_area_and_convection_with_a_range():
    # closed form by hand: h = 0.36 x 0.029 x sqrt(100/2e-5) = 23.3 W/(m^2 K) on two faces of 0.2 m: 0.0628 m^2
    found = heat.warming(100.0, 100.0, (0.18, 0.2, 0.22), "its inertia")
    assert found.value == pytest.approx(100 / (23.344 * 0.062832), rel=1e-3)
    assert found.low == pytest.approx(found.value / 2 / 1.1**2, rel=1e-6)
    assert found.high == pytest.approx(found.value * 2 / 0.9**2, rel=1e-6)
    assert "estimate" in str(found)
    assert str(found).count(" to ") >= 1
    assert "less than 1 K" in str(heat.warming(0.01, 100.0, (0.18, 0.2, 0.22), ""))


def test_a_hub_of_steel_gives_its_own_diameter_back():
    # closed form: 770 t d^4 with t = 5 mm and d = 0.2 m
    line = LAUNCH.replace({"plate.hub_inertia": f"{770 * 0.005 * 0.2**4} kg*m^2"})
    low, value, high = heat.diameter_of(line, None)[0]
    assert value == pytest.approx(0.2, rel=1e-3)
    assert low < value < high


def test_peaks_of_a_motion_that_never_repeats_are_those_of_the_worst_cycle(idle):
    assert idle.status == "aperiodic"
    duty = cs.plate_duty(idle)
    assert duty.cycles == 8
    assert duty.twist_max == idle.spread["plate_twist_max"]["highest_cycle"]
    assert duty.torque_greatest == idle.spread["plate_torque_max"]["highest_cycle"]
    assert duty.main_frequency == pytest.approx(800 / 60 * 2, rel=1e-2)  # order 2 of a four-cylinder four-stroke
    assert duty.alternating_at_ten_hertz == pytest.approx(duty.torque_alternating * math.sqrt(8 / 3), rel=1e-2)
    assert "enter the springs" in " ".join(sentences(duty))


def test_coil_bind_is_judged_where_the_springs_are_measured(sprung, idle):
    bind = next(one for one in judge(SPRUNG, sprung) if one.subject.startswith("coil bind"))
    assert bind.word == "within"
    assert bind.limit == pytest.approx(math.degrees(SPRINGS.bind_angle("drive")), rel=1e-9)
    curve = next(one for one in judge(LAUNCH, idle) if one.subject.startswith("coil bind"))
    assert (curve.word, curve.matters) == ("not judged", False)


def test_the_makers_nominal_torque_is_held_against_the_mean(idle):
    limits = {"plate_mean_torque": {"value": "20 N*m", "document": "maker's sheet 7"}}
    line = cs.line_from_document({**LAUNCH.document, "limits": limits})
    found = next(one for one in judge(line, idle) if one.subject == "plate mean torque")
    assert found.word == "over"
    assert found.value == pytest.approx(idle.measures["plate_torque_mean"], rel=1e-9)


def test_where_there_is_no_plate_or_no_record_there_is_no_duty(idle):
    rigid = cs.line_from_document({**LAUNCH.document, "plate": {"kind": "rigid"}})
    with pytest.raises(ValueError, match="no damper plate"):
        cs.plate_duty(cs.steady(rigid, cs.Condition(800)))
    with pytest.raises(ValueError, match="no signals: failed"):
        cs.plate_duty(replace(idle, signals=None, status="failed", reason="budget"))


def test_run_prints_the_plate_and_its_springs():
    text = CliRunner().invoke(app, ["run", "harbour-launch", "--rpm", "1450"]).stdout
    assert "time on each stage: drive, stage 1 100 %" in text
    assert "which warms the plate by some" in text
    document = json.loads(CliRunner().invoke(app, ["run", "harbour-launch", "--rpm", "1450", "--json"]).stdout)
    assert sum(document["plate"]["shares"].values()) == pytest.approx(1.0)


def test_plain_values_of_a_spring_plate_hold_no_history(sprung):
    duty = cs.plate_duty(sprung)
    document = json_ready(plain(duty))
    assert [one["name"] for one in document["springs"]] == ["soft springs", "main springs", "inner springs"]
    assert "stress" not in document["springs"][0]
    assert len(spring_rows(duty)) == 4
    json.dumps(document, allow_nan=False)
