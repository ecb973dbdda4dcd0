"""Sensitivity by SALib: a published function, a line, and what is said where the package is missing."""

import sys

import numpy as np
import pytest

import calmshaft as cs
from calmshaft.uncertainties.sensitivity import effects_of
from test_monte_carlo import AHEAD, FIRST, LINE, NEUTRAL, V, exact_but, ishigami

TOTAL_OF_THIRD = 0.01 * np.pi**8 * (1 / 18 - 1 / 50) / V  # V13 / V; source in test_monte_carlo


def test_variance_shares_of_a_published_function():
    found = effects_of(ishigami, ["one", "two", "three"], "sobol", 2048, seed=1)
    assert list(found) == ["one", "two", "three"]
    for effect, first in zip(found.values(), FIRST, strict=True):
        assert effect.first == pytest.approx(first, abs=1.5 * effect.first_error)
    totals = (FIRST[0] + TOTAL_OF_THIRD, FIRST[1], TOTAL_OF_THIRD)
    assert [one.total for one in found.values()] == pytest.approx(totals, abs=0.03)


def test_elementary_effects_of_a_plane_are_its_slopes():
    found = effects_of(lambda shares: shares @ [1.0, -5.0, 2.0], ["one", "two", "three"], "morris", 10, seed=1)
    assert {name: effect.mean for name, effect in found.items()} == pytest.approx({"two": 5, "three": 2, "one": 1})
    assert max(effect.spread for effect in found.values()) < 1e-9


def test_a_sum_in_neutral_has_the_shares_of_its_squares():
    """Closed form: the engine carries the sum of two drags; share of each = width^2 / sum of widths^2."""
    line = exact_but(gearbox__input_drag="60 %", gearbox__unloaded_0___drag="80 %")
    found = cs.sensitivity(line, NEUTRAL, "brake_torque", samples=64, seed=2)
    assert found.cases == 64 * (2 + 2)
    assert found.unsolved == 0
    squares = {path: (quantity.high - quantity.low) ** 2 for path, quantity in found.inputs.items()}
    for path, effect in found.effects.items():
        assert effect.total == pytest.approx(squares[path] / sum(squares.values()), abs=0.1)


def test_threads_change_no_bit():
    line = exact_but(flywheel__inertia="20 %", plate__hub_inertia="20 %")
    one, two = (cs.sensitivity(line, AHEAD, method="morris", samples=4, threads=threads) for threads in (1, 2))
    assert one.effects == two.effects
    assert one.measure == "mesh_torque_vibratory"


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ({"method": "sobl"}, "sobol, morris"),
        ({"samples": 100}, "64 or 128"),
        ({"samples": 1}, "whole number from 2"),
        ({"seed": -1}, "seed"),
        ({"measure": "mesh_torque"}, "did you mean"),
    ],
)
def test_a_question_that_cannot_be_is_refused(asked, words):
    with pytest.raises(cs.LineError, match=words):
        cs.sensitivity(LINE, AHEAD, **asked)


def test_one_unsure_value_has_nothing_to_be_compared_with():
    with pytest.raises(cs.LineError, match="too few"):
        cs.sensitivity(exact_but(flywheel__inertia="20 %"), AHEAD)


def test_many_cases_without_an_answer_end_it_with_their_count():
    pressure = {"engine.combustion.exhaust_pressure": {"value": "1.05 bar", "range": "0.5 bar"}}
    line = exact_but(flywheel__inertia="20 %").replace(pressure)  # in many cases a dead cylinder drives
    with pytest.raises(cs.SolveError, match=r"\d+ of 32 cases have no answer"):
        cs.sensitivity(line, AHEAD, samples=8)


def test_where_the_package_is_missing_it_is_said_what_to_install(monkeypatch):
    monkeypatch.setitem(sys.modules, "SALib.sample.sobol", None)
    with pytest.raises(cs.LineError, match=r"SALib.*pip install \"calmshaft\[sensitivity\]\""):
        cs.sensitivity(LINE, AHEAD)
