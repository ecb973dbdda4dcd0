"""Chains and linearised lines: faults, second routes by SciPy, modes in words."""

import math
import pickle

import numpy as np
import pytest
from scipy.linalg import eig, eigh

import calmshaft as cs
from calmshaft import _core
from calmshaft.runs import cylinders, prepared

LAUNCH = cs.sample_line("harbour-launch")
B = LAUNCH.with_plate("plate-b")
ROUNDING = 1e-9  # relative, of matrices whose entries spread over five decades


def geared(**changes) -> cs.Chain:
    """Five stations, a reversing gear pair, dampers and ground springs; invented."""
    given = {
        "inertias": [0.06, 0.90, 0.05, 0.25, 1.5],
        "stiffnesses": [22000.0, 6000.0, None, 12000.0],
        "dampings": [2.0, 8.0, None, 4.0],
        "speed_ratios": [1.0, 1.0, 1.0, -0.5, -0.5],
        "ground_dampings": [0, 0.1, 0, 0, 5.0],
        "ground_stiffnesses": [0, 0, 0, 0, 300.0],
    }
    return cs.chain(**{**given, **changes})


SUBJECTS = [(geared(), None), (B, cs.Condition(2000, misfiring=[3])), (LAUNCH, cs.Condition(900, "neutral"))]


@pytest.mark.parametrize(("subject", "at"), SUBJECTS, ids=["chain", "ahead", "neutral"])
def test_frequencies_and_shapes_are_those_of_scipy(subject, at):
    found = cs.modes(subject, at)
    inertia, _, stiffness, expansion = found.matrices()
    squares, vectors = eigh(stiffness, inertia)
    assert found.angular_frequency**2 == pytest.approx(squares, rel=ROUNDING, abs=1e-9 * squares.max())
    for shape, vector in zip(found.shapes, (expansion @ vectors).T, strict=True):
        scaled = vector / vector[np.abs(vector).argmax()]
        assert shape == pytest.approx(scaled, abs=1e-6)  # a rigid body's shape keeps half the digits
        assert np.abs(shape).max() == 1


@pytest.mark.parametrize(("subject", "at"), SUBJECTS, ids=["chain", "ahead", "neutral"])
def test_poles_are_those_of_scipy(subject, at):
    found = cs.modes(subject, at)
    inertia, damping, stiffness, _ = found.matrices()
    zero, one = np.zeros_like(inertia), np.eye(len(inertia))
    poles = eig(np.block([[zero, one], [-stiffness, -damping]]), np.block([[one, zero], [zero, inertia]]), right=False)
    scale = found.angular_frequency.max()
    for pole in found.poles:
        assert np.abs(poles - pole).min() < 1e-8 * scale  # SciPy solves the plain first-order form, less exactly


@pytest.mark.parametrize(("subject", "at"), SUBJECTS, ids=["chain", "ahead", "neutral"])
def test_the_response_solves_the_equation_and_loses_what_it_takes_in(subject, at):
    omega = np.array([3.0, 90.0, 700.0])
    torque = {0: 100.0, 1: 20.0 - 5.0j}
    found = cs.response(subject, torque, omega, at)
    inertia, damping, stiffness, expansion = cs.modes(subject, at).matrices()
    applied = np.zeros(len(expansion), complex)
    applied[0], applied[1] = torque.values()
    for row, w in enumerate(omega):
        direct = expansion @ np.linalg.solve(stiffness + 1j * w * damping - w**2 * inertia, expansion.T @ applied)
        assert found.angle[row] == pytest.approx(direct, rel=ROUNDING)
    assert (found.power_in > 0).all()
    assert found.power_dissipated == pytest.approx(found.power_in, rel=1e-8)  # small differences of large powers


def test_a_line_is_linearised_as_its_own_parts_say():
    at = cs.Condition(2000)
    system = _core.mass_elastic_system(prepared(B), at.core(cylinders(B)))
    inertias = np.array([station["inertia"] for station in system["stations"]])
    inertias[0] += np.mean(system["tables"]["inertia"])
    stiffness = np.zeros((inertias.size, inertias.size))
    for one in system["couplings"]:
        slope = one.get("stiffness") or sum(ramp["slope"] for ramp in one["ramps"] if ramp["side"] > 0)
        twist = np.zeros(inertias.size)
        twist[one["from"]], twist[one["to"]] = 1.0, -one.get("ratio", 1.0)
        stiffness += slope * np.outer(twist, twist)
    squares = eigh(stiffness, np.diag(inertias), eigvals_only=True)
    # 2000 rpm carry plate B into its last stage; the crank's mean inertia is taken from other nodes: 1e-6
    assert cs.modes(B, at).angular_frequency[1:] == pytest.approx(np.sqrt(squares[1:]), rel=1e-6)


def test_modes_are_said_in_words_that_follow_the_energy():
    words = {name: cs.modes(LAUNCH.with_plate(name), cs.Condition(800)).words for name in ("plate-b", "plate-c")}
    assert words["plate-b"] == words["plate-c"]
    assert words["plate-b"] == (
        "the whole line turns as one",
        "gearbox and propeller on the plate",
        "gearbox against propeller on the shaft",
        "gear teeth",
        "free pair on its teeth",
    )
    light = B.replace({"shaft.length": "6 m"})  # a long shaft under a stiff plate: the propeller swings on it
    stiff = light.replace({"plate.stiffness": "90 N*m/deg"})
    assert cs.modes(stiff, cs.Condition(2000)).words[1] == "propeller on its shaft"
    assert cs.modes(B, cs.Condition(800, "neutral")).words[1] == "gearbox on the plate"
    long = B.document
    long["shaft"]["divisions"] = 6
    assert "the shaft between its ends" in cs.modes(cs.line_from_document(long), cs.Condition(2000)).words


def test_words_of_a_chain_use_its_own_names():
    found = cs.modes(cs.chain([5.0, 0.1, 0.1], [1e6, 1000.0], names=["mill", "hub", "fan"]))
    assert found.words[1] == "fan on the spring hub-fan"
    many = cs.modes(cs.chain([50.0, 0.1, 0.1, 0.1, 0.1], [1000.0, 1e6, 1e6, 1e6], names=["mill", "a", "b", "c", "d"]))
    assert many.words[1] == "a to d on the spring mill-a"
    loose = cs.modes(cs.chain([1.0, 2.0], [0.0], dampings=[3.0]))
    assert loose.words == ("parts turn freely of each other",) * 2
    assert cs.modes(cs.chain([1.0], [], ground_stiffnesses=[4.0])).words == (
        "station 0 on the ground spring of station 0",
    )


def test_shares_of_strain_energy_add_up_and_the_nodes_are_as_many_as_the_mode():
    found = cs.modes(geared(ground_stiffnesses=None))
    assert found.strain_energy[0] == {}
    for mode in range(1, 4):
        assert sum(found.strain_energy[mode].values()) == pytest.approx(1.0)
        assert len(found.nodes[mode]) == mode  # a chain's mode j has j nodes
    # three equal discs swing about the middle one
    middle = cs.modes(cs.chain([1.0] * 3, [1.0] * 2)).nodes[1]
    assert middle == (("0-1", 1.0),)


def test_damping_ratios_go_with_their_modes():
    found = cs.modes(B, cs.Condition(2000))
    assert math.isnan(found.damping_ratio[0])
    inertia, damping, _, _ = found.matrices()  # every station has its own coordinate here
    for mode in (1, 2):
        shape = found.shapes[mode]
        light = (shape @ damping @ shape) / (shape @ inertia @ shape) / (2 * found.angular_frequency[mode])
        assert found.damping_ratio[mode] == pytest.approx(light, rel=0.02)  # first order in damping of some 10 %
    creeping = cs.modes(cs.chain([1.0, 1.0], [1.0], dampings=[5.0]))
    assert creeping.damping_ratio[1] == 1


def test_all_faults_of_a_chain_come_at_once_with_what_to_write():
    with pytest.raises(cs.LineError) as caught:
        cs.chain(
            [1.0, -2.0, "x", math.nan],
            [0.0, None],
            dampings=[1.0],
            speed_ratios=[1.0, 1.0, 0.5, 0.5],
            fixed=[9, "fann"],
            names=["mill", "hub", "hub", "fan"],
        )
    faults = {fault.path: fault for fault in caught.value.faults}
    assert set(faults) == {
        "inertias[1]", "inertias[2]", "inertias[3]", "stiffnesses", "dampings", "fixed[0]", "fixed[1]", "names[2]",
    }  # fmt: skip
    assert all(fault.rule and fault.advice for fault in faults.values())
    assert "fan" in faults["fixed[1]"].advice


@pytest.mark.parametrize(
    ("arguments", "path"),
    [
        ({"inertias": [], "stiffnesses": []}, "inertias"),
        ({"inertias": 3.0, "stiffnesses": []}, "inertias"),
        ({"inertias": [1, 1], "stiffnesses": [None]}, "stiffnesses[0]"),
        ({"inertias": [1, 1], "stiffnesses": [5.0], "speed_ratios": [1, 2]}, "stiffnesses[0]"),
        ({"inertias": [1, 1], "stiffnesses": [math.inf]}, "stiffnesses[0]"),
        ({"inertias": [1, 1], "stiffnesses": [0.0]}, "stiffnesses[0]"),
        ({"inertias": [1, 0], "stiffnesses": [0.0], "dampings": [1.0]}, "inertias[1]"),
        ({"inertias": [1, 1], "stiffnesses": [1.0], "fixed": [0, 1]}, "fixed"),
        ({"inertias": [1, 1], "stiffnesses": [1.0], "fixed": [True]}, "fixed[0]"),
    ],
)
def test_a_chain_that_cannot_be_is_refused(arguments, path):
    with pytest.raises(cs.LineError) as caught:
        cs.chain(**arguments)
    assert [fault.path for fault in caught.value.faults] == [path]


def test_a_chain_is_a_value():
    one = geared(names=["a", "b", "c", "d", "e"], fixed=["a"])
    assert one.fixed == (0,)
    assert pickle.loads(pickle.dumps(one)) == one
    assert hash(one) == hash(geared(names=["a", "b", "c", "d", "e"], fixed=[0]))
    with pytest.raises(AttributeError):
        one.inertias = (1.0,)
    assert one.matrices().inertia.shape == (3, 3)  # one held, one gear pair


def test_resonance_without_damping_has_no_answer_but_a_sentence():
    two = cs.chain([0.5, 0.1], [1000.0])
    with pytest.raises(cs.SolveError, match=r"mode 1.*nothing damps it"):
        cs.response(two, {0: 10.0}, cs.modes(two).angular_frequency[1])
    with pytest.raises(cs.SolveError, match="turns freely"):
        cs.response(two, {0: 10.0}, 0.0)
    assert np.isfinite(cs.response(two, {0: 10.0}, 109.5).torque).all()


@pytest.mark.parametrize(
    ("call", "path"),
    [
        (lambda: cs.response(geared(), {"statoin 1": 1.0}, 5.0), "station"),
        (lambda: cs.response(geared(), {9: 1.0}, 5.0), "station"),
        (lambda: cs.response(geared(), {0: [1.0, 2.0]}, 5.0), "torque"),
        (lambda: cs.response(geared(), {0: math.nan}, 5.0), "torque"),
        (lambda: cs.response(geared(), {0: 1.0}, [-5.0]), "omega"),
        (lambda: cs.response(LAUNCH, {0: 1.0}, 5.0), "at"),
        (lambda: cs.modes(geared(), cs.Condition(800)), "at"),
    ],
)
def test_questions_that_do_not_fit_are_line_errors(call, path):
    with pytest.raises(cs.LineError) as caught:
        call()
    assert caught.value.faults[0].path == path


def test_torque_may_differ_from_frequency_to_frequency():
    omega = [10.0, 20.0]
    both = cs.response(geared(), {0: [1.0, 2.0j]}, omega)
    alone = cs.response(geared(), {0: 2.0j}, 20.0)
    assert both.angle[1] == pytest.approx(alone.angle[0])
