"""Whole lines against the second implementation in this folder, integrated by SciPy in time form.

The crank's tables are handed over, so that only stations, plate, friction, teeth, shaft and propeller are compared;
the engine has its own comparison in the C++ tests' closed forms and in independent_engine.py.
"""

import numpy as np
import pytest

import calmshaft as cs
import independent_line
from calmshaft import _core
from calmshaft.runs import prepared
from independent_engine import EngineTables

LAUNCH = cs.sample_line("harbour-launch")
PLATES = {"A": LAUNCH, "B": LAUNCH.with_plate("plate-b"), "C": LAUNCH.with_plate("plate-c")}
CLOSED = 5e-3  # of ripple while teeth stay in contact: both integrate the same smooth equations
OPEN = 2e-2  # where teeth part: impacts magnify step errors, and neighbouring cycles differ by about as much


def independent(line, at):
    condition = at.core(4)
    tables = _core.mass_elastic_system(prepared(line), condition, 2880)["tables"]
    handed = EngineTables(
        tables["cycle"],
        np.asarray(tables["inertia"]) + line.core.flywheel_inertia,
        np.asarray(tables["inertia_slope"]),
        np.asarray(tables["base_torque"]),
        np.asarray(tables["fuelled_torque"]),
    )
    return independent_line.steady(line.core, condition, tables=handed, rtol=1e-8)


CASES = [
    ("B", cs.Condition(800), CLOSED),
    ("C", cs.Condition(750), CLOSED),
    ("B", cs.Condition(1820, misfiring=[3]), CLOSED),
    ("A", cs.Condition(750), OPEN),
]


@pytest.mark.parametrize(("plate", "at", "tolerance"), CASES, ids=lambda value: str(value)[:60])
def test_ripple_mean_twist_and_fuelling_agree(plate, at, tolerance):
    ours = cs.steady(PLATES[plate], at)
    other = independent(PLATES[plate], at)
    assert ours.best("mesh_torque_ripple") == pytest.approx(other.measures["mesh_ripple"], rel=tolerance)
    assert ours.measures["mesh_torque_mean"] == pytest.approx(other.measures["mesh_mean"], rel=2e-3)
    assert ours.best("plate_twist_max") == pytest.approx(other.measures["twist_max"], rel=tolerance)
    assert ours.fuelling == pytest.approx(other.fuelling, rel=2e-3)
