"""A maker's mass-elastic table in a line file: in place of a part, of all parts, and what is wrong with one."""

import copy
from dataclasses import replace

import numpy as np
import pytest
from typer.testing import CliRunner

import calmshaft as cs
from calmshaft import _core
from calmshaft.app import app
from calmshaft.line import LINES
from calmshaft.linear.tables import chain_of


def launch(**sections):
    """The shipped launch's document with sections taken away (None) or put in."""
    document = cs.sample_line("harbour-launch").document
    for name, section in sections.items():
        document.pop(name, None) if section is None else document.update({name: copy.deepcopy(section)})
    return document


def shaft_table():
    """The launch's own shaft and propeller as a maker's table: the same numbers, so that answers must be the same."""
    core = cs.sample_line("harbour-launch").core
    shaft, propeller = core.shaft, core.propeller
    half, wet = shaft.inertia / 2, propeller.inertia + propeller.water_inertia
    output = core.gearbox.ahead.output_inertia
    end, far = output + half, wet + half
    damping = 2 * shaft.damping_ratio * np.sqrt(shaft.stiffness * end * far / (end + far))
    return {
        "masses": [
            {"name": "output flange", "inertia": f"{output + half!r} kg*m^2", "part": "gearbox output"},
            {"name": "propeller", "inertia": f"{wet + half!r} kg*m^2"},
        ],
        "connections": [
            {"from": "output flange", "to": "propeller", "stiffness": f"{shaft.stiffness!r} N*m/rad",
             "damping": f"{float(damping)!r} N*m*s/rad"}
        ],
    }  # fmt: skip


def with_shaft_table():
    document = launch(shaft=None, mass_elastic=shaft_table())
    del document["gearbox"]["ahead"]["output_inertia"]
    document["propeller"] = {"full_throttle_rpm": document["propeller"]["full_throttle_rpm"]}
    return document


WHOLE = {
    "title": "A line of tables alone, invented",
    "engine": {key: value for key, value in launch()["engine"].items() if key != "crank_inertia"},
    "gearbox": {"rated_torque": "250 N*m"},
    "mass_elastic": {
        "shafts": [{"name": "crankshaft", "speed_ratio": 1}, {"name": "output", "speed_ratio": 0.5}],
        "masses": [
            {"name": "pulley", "inertia": "0.004 kg*m^2"},
            *({"name": f"throw {n}", "inertia": "0.022 kg*m^2", "cylinder": n} for n in (1, 2, 3, 4)),
            {"name": "flywheel", "inertia": "0.45 kg*m^2", "shaft": "crankshaft"},
            {"name": "hub", "inertia": "0.022 kg*m^2", "part": "gearbox input"},
            {"name": "wheel", "inertia": "0.03 kg*m^2", "shaft": "output", "part": "gearbox output"},
            {"name": "flange", "inertia": "0.01 kg*m^2"},
            {"name": "screw", "inertia": "0.16 kg*m^2", "part": "propeller"},
        ],
        "connections": [
            {"from": "pulley", "to": "throw 1", "stiffness": "2e5 N*m/rad"},
            *({"from": f"throw {n}", "to": f"throw {n + 1}", "stiffness": "5e5 N*m/rad"} for n in (1, 2, 3)),
            {"from": "throw 4", "to": "flywheel", "stiffness": "8e5 N*m/rad"},
            {"from": "flywheel", "to": "hub", "stiffness": "900 N*m/rad", "damping": "1 N*m*s/rad"},
            {"from": "hub", "to": "wheel"},
            {"from": "wheel", "to": "flange", "stiffness": "12000 N*m/rad", "damping": "0.5 N*m*s/rad"},
            {"from": "flange", "to": "screw", "stiffness": "7000 N*m/rad", "damping": "0.5 N*m*s/rad"},
        ],
    },
}  # fmt: skip


def whole(**changes):
    document = copy.deepcopy(WHOLE)
    document["mass_elastic"].update(changes)
    return document


def system(line, **at):
    condition = cs.Condition(**{"rpm": 1500, **at}).core(4)
    return _core.mass_elastic_system(_core.PreparedLine(line.core), condition, 1440)


def test_a_table_that_says_what_shaft_and_propeller_say_gives_the_same_answer():
    plate = cs.load_plate("plate-b")  # with it the motion repeats: a last bit that differs does not grow
    parts = cs.sample_line("harbour-launch").with_plate(plate)
    table = cs.line_from_document(with_shaft_table()).with_plate(plate)
    at = cs.Condition(rpm=2400)
    one, other = cs.steady(parts, at), cs.steady(table, at)
    assert one.status == other.status == "periodic"
    for name, value in one.measures.items():  # 1e-6: sums in another order, then some thirty cycles
        assert other.measures[name] == pytest.approx(value, rel=1e-6, abs=1e-9, nan_ok=True), name


def test_a_line_of_tables_alone_runs_in_every_gear_that_it_has():
    line = cs.line_from_document(whole())
    assert line.has_plate is False
    run = cs.steady(line, cs.Condition(rpm=2000, gear="ahead"))
    assert run.status in ("periodic", "subharmonic", "aperiodic")
    assert abs(run.energy_audit["relative_defect"]) < 1e-3
    assert cs.steady(line, cs.Condition(rpm=2000, gear="neutral")).status in ("periodic", "aperiodic", "subharmonic")
    with pytest.raises(cs.LineError, match="astern"):
        cs.steady(line, cs.Condition(rpm=2000, gear="astern"))


def test_the_gearbox_ratio_comes_from_the_shafts_and_inertias_stand_in_their_own_frame():
    found = system(cs.line_from_document(whole()))
    names = {station["name"]: station for station in found["stations"]}
    assert names["flange"]["speed_ratio"] == 0.5  # hangs on the wheel by a spring: no shaft need be written
    assert names["flange"]["inertia"] == 0.01
    mesh = next(one for one in found["couplings"] if one["kind"] == "loaded mesh")
    assert mesh["ratio"] == 2.0


def test_throws_and_what_lies_between_them_are_one_rigid_crank_of_the_same_mean_inertia():
    line = cs.line_from_document(whole())
    found = system(line)
    assert [station["name"] for station in found["stations"]][:2] == ["crank and flywheel", "pulley"]
    crank = float(found["tables"]["inertia"].mean())
    assert crank == pytest.approx(4 * 0.022, rel=1e-9)  # the maker's rows hold pistons and rods on the average
    assert "engine.crank_inertia" not in line.quantities


def test_a_rigid_gear_pair_refers_inertia_and_spring_by_the_ratio_squared():
    """Two inertias on a pump drive at three times crank speed: J' = 9 J, k' = 9 k (Thomson, Theory of Vibration)."""
    document = whole()
    table = document["mass_elastic"]
    table["shafts"].append({"name": "pump shaft", "speed_ratio": 3})
    table["masses"] += [
        {"name": "pump gear", "inertia": "0.0001 kg*m^2", "shaft": "pump shaft"},
        {"name": "pump", "inertia": "0.0005 kg*m^2"},
    ]
    table["connections"] += [
        {"from": "hub", "to": "pump gear"},
        {"from": "pump gear", "to": "pump", "stiffness": "100 N*m/rad"},
    ]
    found = system(cs.line_from_document(document))
    stations = {one["name"]: one for one in found["stations"]}
    assert stations["pump"]["inertia"] == pytest.approx(9 * 0.0005)
    plain = {one["name"]: one for one in system(cs.line_from_document(whole()))["stations"]}
    assert stations["hub"]["inertia"] - plain["hub"]["inertia"] == pytest.approx(9 * 0.0001)
    spring = next(one for one in found["couplings"] if one["name"] == "pump gear to pump")
    assert spring["stiffness"] == pytest.approx(900)


def broken(**where):
    """The whole table with one thing wrong; returns the error's text."""
    document = whole()
    for edit in where.values():
        edit(document["mass_elastic"])
    with pytest.raises(cs.LineError) as error:
        cs.line_from_document(document)
    return str(error.value)


def masses(table):
    return {mass["name"]: mass for mass in table["masses"]}


@pytest.mark.parametrize(
    ("edit", "words"),
    [
        (lambda t: t["connections"].pop(), 'masses[9].name is screw: is joined to nothing'),
        (lambda t: masses(t)["flange"].update(inertia="0 kg*m^2"), "masses[8].inertia is 0 kg*m^2: must be more than"),
        (lambda t: masses(t)["flange"].pop("inertia"), "masses[8].inertia is missing"),
        (lambda t: masses(t)["pulley"].update(name="throw 1"), "stands twice"),
        (lambda t: t["connections"][6].update(stiffness="1e5 N*m/rad"), "between shafts that turn at different speeds"),
        (lambda t: t["connections"][7].pop("stiffness"), "connections[7].stiffness is missing"),
        (lambda t: t["connections"][7].update({"from": "weel"}), '"weel": is not a mass of this table; write wheel'),
        (lambda t: masses(t)["wheel"].update(shaft="outputt"), "is not a shaft of this table; write output"),
        (lambda t: t["connections"].append({"from": "hub", "to": "pulley", "stiffness": "1 N*m/rad"}), "closes a ring"),
        (lambda t: masses(t)["flange"].update(part="propeller"), "another row is already"),
        (lambda t: [masses(t)[f"throw {n}"].update(inertia="0.002 kg*m^2") for n in (1, 2, 3, 4)], "crank_inertia"),
        (lambda t: t["shafts"][1].update(speed_ratio=0), "must be more than zero"),
    ],
)  # fmt: skip
def test_what_is_wrong_with_a_table_is_said_on_its_row(edit, words):
    assert words in broken(one=edit)


def test_all_faults_of_a_table_come_at_once():
    text = broken(
        one=lambda t: masses(t)["flange"].update(inertia="-1 kg*m^2"),
        two=lambda t: t["connections"][7].update(stiffness="0 N*m/rad"),
        three=lambda t: t["connections"].append({"from": "pulley", "to": "nowhere"}),
    )
    assert text.count("mass_elastic.") >= 3


def test_a_part_that_is_described_twice_is_refused():
    document = whole()
    document["engine"]["crank_inertia"] = "0.05 kg*m^2"
    with pytest.raises(cs.LineError, match=r"says the same as engine\.crank_inertia"):
        cs.line_from_document(document)
    document = whole()
    document["plate"] = launch()["plate"]
    with pytest.raises(cs.LineError, match="plate: stands in its own section and in the table"):
        cs.line_from_document(document)
    document = whole()
    document["flywheel"] = {"inertia": "0.5 kg*m^2"}
    with pytest.raises(cs.LineError, match=r"says the same as flywheel\.inertia"):
        cs.line_from_document(document)


def test_a_stiffness_of_the_table_can_be_swept():
    line = cs.line_from_document(whole())
    path = "mass_elastic.connections[5].stiffness"
    assert path in line.paths()
    swept = cs.sweep(line, {path: ([600.0, 1200.0], "N*m/rad")}, cs.Condition(rpm=1200))
    assert swept["mesh_torque_vibratory"].values[0] < swept["mesh_torque_vibratory"].values[1]


def test_a_table_alone_is_a_chain_with_its_crank_as_flexible_as_it_is(tmp_path):
    chain = cs.load_chain(LINES / "harbour-launch-tables.toml")
    assert chain.names[:2] == ("pulley", "throw 1")
    line = cs.sample_line("harbour-launch-tables")
    lumped = cs.modes(line, cs.Condition(rpm=1500)).frequency_hz
    # what the line's gearbox adds to the maker's hub: the driven disc and a free gear
    stations = {one["name"]: one["inertia"] for one in system(line)["stations"]}
    hub = stations["coupling hub"] + stations["free pair 1"]
    at_hub = [
        hub if name == "coupling hub" else inertia for name, inertia in zip(chain.names, chain.inertias, strict=True)
    ]
    frequencies = cs.modes(replace(chain, inertias=tuple(at_hub))).frequency_hz
    # the crank's own modes lie above 200 Hz, so the low ones hardly feel that the line has it rigid
    assert frequencies[1:3] == pytest.approx(lumped[1:3], rel=2e-3)
    assert frequencies.size == len(chain.names) - 1  # wheel and hub turn as one: no teeth in a chain


def test_a_branched_table_is_refused_as_a_chain():
    table = copy.deepcopy(WHOLE["mass_elastic"])
    table["masses"].append({"name": "pump", "inertia": "0.001 kg*m^2"})
    table["connections"].append({"from": "hub", "to": "pump", "stiffness": "100 N*m/rad"})
    with pytest.raises(cs.LineError, match="pump: does not stand in one row"):
        chain_of({"mass_elastic": table})
    with pytest.raises(cs.LineError, match="mass_elastic is missing"):
        chain_of({})


def test_check_tells_the_frequencies_of_a_table_without_an_engine(tmp_path):
    text = (LINES / "harbour-launch-tables.toml").read_text()
    file = tmp_path / "maker.toml"
    file.write_text(text[text.index("# Shafts") :])
    shown = CliRunner().invoke(app, ["check", str(file)])
    assert shown.exit_code == 0
    for frequency in cs.modes(cs.load_chain(file)).frequency_hz:
        assert f"{frequency:.1f}" in shown.stdout
    file.write_text(file.read_text().replace('to = "propeller"', 'to = "propellor"'))
    refused = CliRunner().invoke(app, ["check", str(file)])
    assert refused.exit_code == 2
    assert "maker.toml:" in refused.stderr
    assert "write propeller" in refused.stderr
