"""`uncertainty` and the bands beside the answers of `run`, `check` and the guided entry, as a builder meets them."""

import json

import numpy as np
import pytest
from matplotlib.colors import to_hex

import calmshaft as cs
from calmshaft import _core
from calmshaft.plots.style import COOL
from calmshaft.toml_text import text_of
from calmshaft.uncertainties.cases import FINE, Family, steady_of
from calmshaft.uncertainties.frequencies import frequency_bands
from test_app import called, quiet_line  # noqa: F401 - a fixture
from test_monte_carlo import exact_but

BROCHURE = """
title = "Brochure only"
[engine]
strokes = 4
fuel = "diesel"
cylinders = 4
bore = "92 mm"
stroke = "98 mm"
idle_rpm = 800
rated_rpm = 2600
rated_power = "61 PS"
[plate]
stop_angle = "12 deg"
[[plate.stages]]
stiffness = "16 N*m/deg"
"""
IN_GEAR = """
[gearbox.ahead]
ratio = 2.0
[shaft]
diameter = "35 mm"
length = "2.2 m"
[propeller]
diameter = "0.46 m"
"""


@pytest.fixture
def brochure(tmp_path):
    path = tmp_path / "brochure.toml"
    path.write_text(BROCHURE + IN_GEAR)
    return path


def test_it_tells_bands_cases_past_a_limit_and_what_to_measure(brochure, tmp_path):
    found = called("uncertainty", brochure, "--cases", 60, "--limit", "40 N*m", "--out", tmp_path / "o", code=1)
    said = " ".join(found.stdout.split())
    assert "60 plausible cases" in said
    assert "5 % are below" in said
    assert "above 40 N m in" in said
    assert "at the ends of its range" in said
    assert "Measure next: flywheel.inertia" in said
    assert "weigh it" in said
    assert "licensed practice" in said
    for picture in ("cases.png", "tornado.png"):
        assert (tmp_path / "o" / f"{brochure.stem}-800rpm-ahead-{picture}").read_bytes().startswith(b"\x89PNG")


def test_json_is_one_document_and_comes_again_to_the_bit(brochure):
    command = ("uncertainty", brochure, "--cases", 40, "--limit", "1 kN*m", "--json", "--gear", "ahead")
    texts = [called(*command, "--jobs", jobs, code=1).stdout for jobs in (1, 2)]
    assert texts[0] == texts[1]
    document = json.loads(texts[0])
    band = document["bands"]["mesh_torque_vibratory"]
    assert band["low"] < band["median"] < band["high"]
    limit = document["limits"][0]
    assert [one["measure"] for one in document["limits"]][1:] == ["mesh_separated_share", "plate_stop_share"]
    assert limit["word"] == "within"
    assert limit["interval_95"][0] <= limit["share"] <= limit["interval_95"][1]
    assert document["tornado"][0]["key"] == "flywheel.inertia"
    assert document["measure_next"]["key"] == "flywheel.inertia"
    assert "weigh it" in document["measure_next"]["how_to_measure"]


def test_all_within_exits_zero(quiet_line):  # noqa: F811
    said = called("uncertainty", quiet_line, "--cases", 20, "--rpm", 2000).stdout
    assert "within" in said


def test_cases_without_an_answer_exit_four(tmp_path, brochure):
    pressure = (
        '[engine.combustion]\nexhaust_pressure = { value = "1.05 bar", range = "0.5 bar" }'  # a dead cylinder drives
    )
    brochure.write_text(brochure.read_text().replace("[plate]", f"{pressure}\n[plate]"))
    said = called("uncertainty", brochure, "--cases", 40, code=4).stdout
    assert "refused" in said
    assert "with those that have no answer" in " ".join(said.split())


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (("--measure", "mesh_torque_vibratry"), "mesh_torque_vibratory"),
        (("--limit", "50 mm"), "torque is needed"),
        (("--cases", 3), "cannot make a band"),
        (("--method", "dice"), "random, latin, sobol"),
        (("--rpm", 9000), "rpm"),
        (("--gear", "astern"), "astern"),
    ],
)
def test_bad_input_ends_in_its_words_and_two(brochure, options, words):
    assert words in called("uncertainty", brochure, *options, code=2).stderr


def test_with_brochure_data_every_answer_of_run_has_its_band(brochure):
    said = called("run", brochure, code=1).stdout
    table = said.split("measure ")[1].split("plausible cases")[0].splitlines()
    assert "5 % are below" in table[0]
    assert len([line for line in table if line.endswith("N m")]) > 5
    assert "of the cases" in said
    document = json.loads(called("run", brochure, "--json", code=1).stdout)
    bands = document["band"]["bands"]
    assert all(bands[name]["low"] <= bands[name]["high"] for name in bands)
    assert {name for name, one in document["measures"].items() if one["value"] is not None} <= set(bands)


def test_the_band_of_run_can_be_left_out(brochure):
    said = called("run", brochure, "--no-band", code=1).stdout
    assert "are below" not in said
    assert json.loads(called("run", brochure, "--no-band", "--json", code=1).stdout)["band"] is None


def test_neutral_alone_has_its_band_too(tmp_path):
    path = tmp_path / "neutral.toml"
    path.write_text(BROCHURE)
    said = called("uncertainty", path, "--cases", 40, code=1).stdout
    assert "neutral" in said
    assert "unloaded pair" in said


def test_check_shows_natural_frequencies_with_their_band(brochure):
    said = called("check", brochure).stdout
    row = next(line for line in said.splitlines() if "on the plate" in line)
    value, low, high = (float(cell) for cell in row.split("plate")[1].split()[:3])
    assert low < value < high
    assert "Measure first: flywheel.inertia" in said


def test_a_natural_frequency_is_spread_as_its_spring_is():
    """Closed form, Rayleigh's quotient: df/f = share of strain energy in the shaft x dk/k / 2 for a small range."""
    line = exact_but(shaft__shear_modulus="2 %")
    at = cs.Condition(rpm=1600)
    found = cs.modes(line, at)
    low, median, high = frequency_bands(line, at).T
    strain = [energy.get("the shaft", 0.0) for energy in found.strain_energy]
    widths = np.array(strain) * 0.04 * 0.9 / 2  # nine tenths of a range of +-2 %
    swinging = found.frequency_hz > 0
    assert median[swinging] == pytest.approx(found.frequency_hz[swinging], rel=1e-3)
    # quantiles of 200 even draws, one in each 200th: within a 200th of the range; the quotient is of first order
    spread = (high - low)[swinging] / found.frequency_hz[swinging]
    assert spread == pytest.approx(widths[swinging], rel=0.02, abs=1e-5)


def test_a_line_without_ranges_has_no_bands_of_frequency():
    assert frequency_bands(exact_but(), cs.Condition(rpm=1600)).shape == (0, 3)


def test_only_what_a_steady_condition_asks_for_is_drawn():
    felt = Family(cs.sample_line("harbour-launch")).felt()
    assert "flywheel.inertia" in felt
    assert not [path for path in felt if "governor" in path or "clutch" in path]


def test_a_tornado_has_a_bar_for_each_end_and_names_its_values():
    found = cs.tornado(exact_but(flywheel__inertia="20 %", plate__hub_inertia="20 %"), cs.Condition(rpm=1600))
    ax = cs.plots.tornado(found)
    assert [tick.get_text() for tick in ax.get_yticklabels()] == [one.path for one in found.swings]
    assert "N m" in ax.get_xlabel()
    widths = [abs(bar.get_width()) for bar in ax.patches]
    wanted = [abs(end - one.start) for one in found.swings for end in (one.at_low, one.at_high)]
    assert widths == pytest.approx(wanted)
    assert {"0.36 kg m²", "0.54 kg m²"} <= {text.get_text() for text in ax.texts}


def test_the_picture_of_cases_marks_those_past_the_limit():
    found = cs.uncertainty(
        exact_but(flywheel__inertia="20 %"),
        cs.Condition(rpm=1600),
        100,
        limits={
            "mesh_torque_vibratory": 1.02 * cs.steady(exact_but(), cs.Condition(rpm=1600)).best("mesh_torque_vibratory")
        },
    )
    ax = cs.plots.cases(found)
    heights = {True: 0.0, False: 0.0}
    for bar in ax.patches:
        if bar.get_hatch() or to_hex(bar.get_facecolor()) == COOL:
            heights[bool(bar.get_hatch())] += bar.get_height()
    assert heights == {True: found.past_limit().count, False: 100}
    assert "N m" in ax.get_xlabel()
    assert "nine of ten" in " ".join(ax.get_title(loc="left").split())


@pytest.mark.parametrize("gear", ["ahead", "neutral"])
def test_a_rigid_drive_has_bands_of_what_it_has(tmp_path, gear):
    path = tmp_path / "rigid.toml"
    start, end = BROCHURE.index("[plate]"), len(BROCHURE)
    path.write_text(BROCHURE.replace(BROCHURE[start:end], '[plate]\nkind = "rigid"\n') + IN_GEAR)
    said = called("uncertainty", path, "--cases", 20, "--gear", gear, code=1).stdout
    assert "flywheel speed over its mean" in said
    assert "twist of the plate" not in said
    assert "stop" not in said.split("One value")[0]
    refused = called("uncertainty", path, "--cases", 20, "--measure", "plate_twist_max", code=2).stderr
    assert "plate_twist_max" in refused
    assert "ask for one of" in refused


def test_run_says_why_it_has_no_band(tmp_path):
    path = tmp_path / "exact.toml"
    path.write_text(text_of(exact_but().document))
    found = called("run", path)
    assert "no band beside the answers: " in found.stderr
    assert "no value that this condition asks for has a range" in found.stderr
    assert "are below" not in found.stdout


def test_a_tornado_says_which_end_has_no_answer():
    pressure = {"engine.combustion.exhaust_pressure": {"value": "1.05 bar", "range": "0.2 bar"}}
    line = exact_but(flywheel__inertia="20 %").replace(pressure)  # at its low end a dead cylinder drives
    found = cs.tornado(line, cs.Condition(rpm=1600))
    assert [one.path for one in found.unsolved()] == ["engine.combustion.exhaust_pressure"]
    ax = cs.plots.tornado(found)
    assert "low end: refused" in [text.get_text() for text in ax.texts]


def test_cases_solved_with_finer_steps_stand_among_the_others(monkeypatch):
    """A case that has no answer at first is asked again; here none has one until the finest steps are taken."""
    line, at, asked = exact_but(flywheel__inertia="20 %"), cs.Condition(rpm=1600), []
    sweep = _core.sweep

    def unwilling(*arguments):
        asked.append(arguments[-1])
        table = sweep(*arguments)
        return table if arguments[-1] == FINE else table | {"status": np.full_like(table["status"], 4)}

    monkeypatch.setattr(_core, "sweep", unwilling)
    members = [Family(line).member({"flywheel.inertia": share})[0] for share in (0.0, 1.0)]
    assert (steady_of(members, [at]).status < 3).all()
    assert asked == [0.0, FINE]
