"""Torque in the shaft over a sweep: exact where it decides, bounded above elsewhere, and few points worked out."""

import numpy as np
import pytest

import calmshaft as cs
from calmshaft.judgement import line_shaft, over_speed

LAUNCH = cs.sample_line("harbour-launch")
LINES = {"launch": LAUNCH, "plate-b": LAUNCH.with_plate("plate-b"), "six": cs.sample_line("harbour-launch-six"),
         "pieces": LAUNCH.replace({"shaft.divisions": 3})}  # fmt: skip
SPEEDS = [800.0, 900.0, 1100.0, 1300.0, 1500.0, 1700.0, 2000.0, 2300.0, 2600.0]
AT = cs.Condition(800)


@pytest.fixture(scope="module", params=LINES)
def case(request):
    """A line, its sweep, what is asked of it, and the exact torque at all of these points."""
    line = LINES[request.param]
    ds = cs.sweep(line, {"rpm": SPEEDS, "misfiring": ["none", "1"]}, AT)
    wanted = over_speed.valid(ds) & over_speed.held(ds)
    exact = np.full((len(SPEEDS), 2), np.nan)
    for row, column in zip(*np.nonzero(wanted.transpose("rpm", "misfiring").values), strict=True):
        at = AT.with_(rpm=SPEEDS[row], misfiring=["none", "1"][column])
        exact[row, column] = line_shaft.shaft_torque(cs.steady(line, at))
    return line, ds, wanted, exact


def test_the_sum_of_orders_by_the_linear_view_bounds_every_point(case):
    line, ds, wanted, exact = case
    bound = line_shaft.ShaftOverSpeed(line, AT, ds, wanted)._bound
    there = np.isfinite(exact)
    assert (bound[there] >= exact[there]).all()
    assert np.median(bound[there] / exact[there]) < 2  # and is not far off


@pytest.mark.parametrize("share", [0.3, 0.8, 1.5])
def test_what_decides_is_exact_and_what_is_over_as_well(case, share, monkeypatch):
    line, ds, wanted, exact = case
    asked = []
    plain = line_shaft.steady
    monkeypatch.setattr(line_shaft, "steady", lambda *these: asked.append(these) or plain(*these))
    limit = share * float(np.nanmax(exact))
    found = line_shaft.ShaftOverSpeed(line, AT, ds, wanted).beside(limit).values
    assert (np.isnan(found) == np.isnan(exact)).all()
    for column in range(2):
        assert np.nanmax(found[:, column]) == np.nanmax(exact[:, column])
        assert np.nanargmax(found[:, column]) == np.nanargmax(exact[:, column])
    over = exact > limit
    assert (found[over] == exact[over]).all()
    assert ((found > limit) == over).all()
    assert len(asked) <= np.isfinite(exact).sum()
    if share == 1.5:
        assert len(asked) < np.isfinite(exact).sum()


def test_a_limit_that_falls_with_speed_is_decided_where_it_is_nearest(case):
    line, ds, wanted, exact = case
    limit = 100.0 / np.linspace(1.0, 4.0, len(SPEEDS))
    found = line_shaft.ShaftOverSpeed(line, AT, ds, wanted).beside(limit).values
    for column in range(2):
        nearest = np.nanargmax(exact[:, column] / limit)
        assert np.nanargmax(found[:, column] / limit) == nearest
        assert found[nearest, column] == exact[nearest, column]


def test_speeds_without_a_limit_are_not_worked_out(case, monkeypatch):
    line, ds, wanted, _ = case
    asked = []
    plain = line_shaft.steady
    monkeypatch.setattr(line_shaft, "steady", lambda *these: asked.append(these[1].rpm) or plain(*these))
    limit = np.where(np.array(SPEEDS) < 1200, 50.0, np.nan)
    line_shaft.ShaftOverSpeed(line, AT, ds, wanted).beside(limit)
    assert asked
    assert max(asked) < 1200


def test_a_line_without_a_shaft_has_no_torque_in_it():
    tables = cs.sample_line("harbour-launch-tables")
    ds = cs.sweep(tables, {"rpm": [800.0], "misfiring": ["none"]}, AT)
    found = line_shaft.ShaftOverSpeed(tables, AT, ds, over_speed.valid(ds)).beside(10.0)
    assert np.isnan(found.values).all()
