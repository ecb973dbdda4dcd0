"""Plausible cases: bands, cases past a limit, what to measure next, against closed forms. The lines are invented."""

import math
import sys

import numpy as np
import pytest

import calmshaft as cs
from calmshaft import units
from calmshaft.schema_paths import kind_at
from calmshaft.uncertainties import bands, cases, influence
from calmshaft.uncertainties.draws import drawn

LINE = cs.sample_line("harbour-launch").with_plate("plate-b")
NEUTRAL = cs.Condition(rpm=1600, gear="neutral")
AHEAD = cs.Condition(rpm=1600)
FEW = 200


def exact_but(**ranges: str) -> cs.Line:
    """The launch with every value known, but those named: a double underscore stands for a point, _0_ for [0]."""
    ranges = {path.replace("_0_", "[0]").replace("__", "."): text for path, text in ranges.items()}
    known = {
        path: units.write(quantity.value, kind_at(path) or "pure") for path, quantity in LINE.quantities.items()
        if kind_at(path) and quantity.low < quantity.high
    }  # fmt: skip
    known |= {path: int(LINE.quantities[path].value) for path in known if path == "propeller.blades"}
    line = LINE.replace(known)
    written = {path: units.write(line.quantities[path].value, kind_at(path) or "pure") for path in ranges}
    return line.replace({path: {"value": written[path], "range": text} for path, text in ranges.items()})


@pytest.fixture(scope="module")
def throttle() -> cs.Uncertainty:
    """Only the full-throttle speed is unsure: the mean torque follows from it by the square law."""
    line = exact_but(propeller__full_throttle_rpm="10 %")
    return cs.uncertainty(line, AHEAD, 1000, seed=3, measures="mesh_torque_mean")


def square_law(found: cs.Uncertainty, share: float) -> float:
    """Mean torque [N m] where the speed lies at a share of its range: T = T_0 / s^2, s from 0.9 to 1.1."""
    return found.band().start / (0.9 + 0.2 * share) ** 2


RIPPLE_OF_SPEED = 2e-3  # [-] mean of w^2 over the square of the mean of w, which the square law leaves out


def test_a_band_is_that_of_the_closed_form(throttle):
    """Closed form: T falls as the speed s grows, so 5 % of T lie below T(s at 95 %)."""
    drawn_band, exact = throttle.band(), [square_law(throttle, share) for share in (0.95, 0.5, 0.05)]
    # three standard errors of a quantile of 1,000 even shares, at most sqrt(0.25 / 1000) of a range of 40 % of T
    chance = 3 * 0.016 * 0.4
    assert [drawn_band.low, drawn_band.median, drawn_band.high] == pytest.approx(exact, rel=chance + RIPPLE_OF_SPEED)
    assert list(throttle.inputs) == ["propeller.full_throttle_rpm"]
    assert not throttle.unsolved()


def test_every_case_is_the_closed_form_of_its_own_draw(throttle):
    exact = [square_law(throttle, share) for share in throttle.shares[:, 0]]
    assert throttle.of() == pytest.approx(exact, rel=RIPPLE_OF_SPEED)


def test_the_share_past_a_limit_is_that_of_the_closed_form(throttle):
    """T > L where s < sqrt(T_0 / L): of the shares, (sqrt(T_0 / L) - 0.9) / 0.2."""
    limit = 1.08 * throttle.band().start
    told = throttle.past_limit(limit=f"{limit} N*m")
    exact = (math.sqrt(1 / 1.08) - 0.9) / 0.2
    assert told.standard_error == pytest.approx(math.sqrt(exact * (1 - exact) / 1000), rel=0.1)
    assert told.share == pytest.approx(exact, abs=3 * told.standard_error)
    assert told.interval[0] < exact < told.interval[1]
    assert told.count == (throttle.of() > limit).sum()
    assert told.word == "over"


def test_a_value_that_decides_alone_leaves_a_tenth_of_the_band(throttle):
    """Closed form: the answer hardly bends, so a tenth of the range makes a tenth of the band."""
    first = throttle.measure_next()
    assert first.path == "propeller.full_throttle_rpm"
    assert first.part == pytest.approx(0.1)
    assert first.remaining / first.now == pytest.approx(0.1, abs=0.01)
    assert "achometer" in first.how_to_measure
    (only,) = throttle.influences()
    assert only.rank_correlation == pytest.approx(-1, abs=1e-6)
    assert only.variance_share > 0.99


@pytest.fixture(scope="module")
def drags() -> cs.Uncertainty:
    """In neutral the engine carries two drags, which are unsure: their sum has the shape of a trapezium."""
    line = exact_but(gearbox__input_drag="60 %", gearbox__unloaded_0___drag="80 %")
    return cs.uncertainty(line, NEUTRAL, 1000, seed=2, measures="brake_torque")


def test_a_sum_of_two_unsure_values_is_spread_as_it_must_be(drags):
    """Closed form: mean and variance of a sum of independent even values add; variance = width^2 / 12."""
    widths = [quantity.high - quantity.low for quantity in drags.inputs.values()]
    total, deviation = drags.of(), math.sqrt(sum(width**2 for width in widths) / 12)
    starts = sum(quantity.value for quantity in drags.inputs.values())
    three_errors = 3 * deviation / math.sqrt(1000)
    assert total.mean() == pytest.approx(starts, abs=three_errors + 2e-3 * starts)  # 0.1 % by which a march settles
    assert total.std() == pytest.approx(deviation, rel=3 / math.sqrt(2 * 1000))
    summed = sum(q.low + s * (q.high - q.low) for q, s in zip(drags.inputs.values(), drags.shares.T, strict=True))
    assert total == pytest.approx(summed, rel=5e-3)


def test_shares_of_the_variance_go_with_the_squares_of_the_ranges(drags):
    """Closed form for a sum: share = width^2 / sum of widths^2."""
    widths = {path: quantity.high - quantity.low for path, quantity in drags.inputs.items()}
    for one in drags.influences():
        exact = widths[one.path] ** 2 / sum(width**2 for width in widths.values())
        assert one.variance_share == pytest.approx(exact, abs=0.06)  # three standard errors of a share from 1,000 cases
    widest = max(widths, key=widths.get)
    assert drags.measure_next().path == widest


def ishigami(shares: np.ndarray) -> np.ndarray:
    """f = sin x1 + a sin^2 x2 + b x3^4 sin x1, a = 7, b = 0.1, x even from -pi to pi."""
    one, two, three = (np.pi * (2 * column - 1) for column in shares.T)
    return np.sin(one) + 7 * np.sin(two) ** 2 + 0.1 * three**4 * np.sin(one)


# Ishigami and Homma, "An importance quantification technique in uncertainty analysis for computer models", ISUMA 1990,
# p. 398 (value from memory); the shares follow by closed form: V1 = (1 + b pi^4/5)^2 / 2, V2 = a^2/8,
# V13 = b^2 pi^8 (1/18 - 1/50), V = a^2/8 + b pi^4/5 + b^2 pi^8/18 + 1/2.
V = 7**2 / 8 + 0.1 * np.pi**4 / 5 + 0.01 * np.pi**8 / 18 + 0.5
FIRST = (0.5 * (1 + 0.1 * np.pi**4 / 5) ** 2 / V, 7**2 / 8 / V, 0.0)


@pytest.mark.parametrize("method", ["random", "latin", "sobol"])
def test_shares_of_the_variance_of_a_published_function(method):
    shares = drawn(method, 4000, 3, seed=5)
    found = [influence.variance_share(column, ishigami(shares)) for column in shares.T]
    assert found == pytest.approx(FIRST, abs=0.03)  # three standard errors from 4,000 cases


def test_the_wilson_interval_is_the_published_one():
    """Newcombe, Statistics in Medicine 17 (1998), p. 857, table I, method 3 (value from memory)."""
    assert bands.wilson(81, 263) == pytest.approx((0.2553, 0.3662), abs=5e-5)
    assert bands.wilson(15, 148) == pytest.approx((0.0624, 0.1605), abs=5e-5)
    assert bands.wilson(0, 20)[0] == 0.0
    assert bands.wilson(20, 20)[1] == 1.0
    assert all(math.isnan(end) for end in bands.wilson(0, 0))


def test_where_scipy_is_missing_sobol_says_what_to_install(monkeypatch):
    monkeypatch.setitem(sys.modules, "scipy.stats", None)
    with pytest.raises(cs.LineError, match=r"SciPy.*pip install \"calmshaft\[sensitivity\]\".*latin"):
        cs.uncertainty(LINE, AHEAD, 20, method="sobol")


@pytest.mark.parametrize("method", ["random", "latin", "sobol"])
def test_draws_are_even_and_come_again_with_their_seed(method):
    shares = drawn(method, 500, 4, seed=9)
    assert shares.shape == (500, 4)
    assert 0 <= shares.min() < shares.max() < 1
    assert shares.mean(axis=0) == pytest.approx([0.5] * 4, abs=3 / math.sqrt(12 * 500))
    assert np.array_equal(shares, drawn(method, 500, 4, seed=9))
    assert not np.array_equal(shares, drawn(method, 500, 4, seed=10))


def test_a_latin_hypercube_visits_every_part_of_every_range_once():
    shares = drawn("latin", 50, 3, seed=1)
    assert (np.sort(np.floor(shares * 50), axis=0) == np.arange(50)[:, None]).all()


def test_threads_and_chunks_change_no_bit(monkeypatch):
    one = cs.uncertainty(LINE, AHEAD, 60, threads=1)
    two = cs.uncertainty(LINE, AHEAD, 60, threads=2)
    monkeypatch.setattr(cases, "CHUNK", 7)
    chopped = cs.uncertainty(LINE, AHEAD, 60, threads=2)
    for other in (two, chopped):
        assert one.values.tobytes() == other.values.tobytes()
        assert one.status.tobytes() == other.status.tobytes()
    assert one.influences() == two.influences()


def test_the_answer_as_described_is_that_of_a_single_run(throttle):
    alone = cs.steady(throttle.line, AHEAD)
    assert throttle.band().start == pytest.approx(alone.best("mesh_torque_mean"), rel=1e-12)


def test_cases_without_an_answer_are_counted_and_said():
    """A rod is no shorter than half the stroke, 49 mm: its range is cut there; below 52 mm it lacks its own middle."""
    found = cs.uncertainty(exact_but(engine__rod_length="75 %"), AHEAD, FEW, limit="1 N*m")
    (refused,) = found.unsolved().values()
    assert list(found.unsolved()) == ["refused"]
    assert refused == found.band().unsolved == np.isnan(found.of()).sum()
    shares = found.shares[:, 0]
    assert refused == (shares < shares[found.solved()].min()).sum()  # all the short ones, none of the others
    told = found.past_limit()
    assert told.solved + told.unsolved == found.cases == FEW
    assert told.least <= told.share * told.solved / FEW <= told.most
    assert told.most == pytest.approx((told.count + refused) / FEW)


def test_a_least_value_is_past_its_limit_downwards():
    answers, all_of_them = np.array([-3.0, -1.0, 2.0, 8.0]), np.full(4, True)
    told = bands.past_limit("mesh_torque_min", 0.0, answers, all_of_them)
    assert (told.downwards, told.count) == (True, 2)
    assert bands.past_limit("mesh_torque_max", 0.0, answers, all_of_them).count == 2


@pytest.mark.parametrize(("answers", "word"), [((1, 2), "within"), ((1, 9.5), "near"), ((1, 11), "over")])
def test_words_go_by_one_case_in_twenty(answers, word):
    usual, rare = answers
    many = np.array([usual] * 94 + [rare] * 6, dtype=float)
    few = np.array([usual] * 96 + [rare] * 4, dtype=float)
    all_of_them = np.full(100, True)
    assert bands.past_limit("plate_torque_max", 10.0, many, all_of_them).word == word
    assert bands.past_limit("plate_torque_max", 10.0, few, all_of_them).word == "within"


def test_what_the_line_file_limits_is_asked_without_being_named():
    sheet = {"document": "maker's sheet"}
    line = LINE.replace({"limits.gearbox_vibratory_torque": {"value": "12 N*m"} | sheet,
                         "limits.plate_alternating_torque": {"value": "30 N*m"} | sheet,
                         "limits.plate_greatest_torque": {"value": "150 N*m"} | sheet})  # fmt: skip
    usual = {"mesh_separated_share": 0.001, "plate_stop_share": 0.0}
    entered = {"mesh_torque_vibratory": 12.0, "plate_torque_ripple": 60.0}
    assert cs.uncertainty(line, AHEAD, 40).limits == pytest.approx(
        usual | entered | {"plate_torque_max": 150.0, "plate_torque_min": -150.0})  # fmt: skip
    stated = {"plate_torque_max": 180.0, "plate_torque_min": -180.0}  # by the plate's maker
    assert cs.uncertainty(LINE, AHEAD, 40).limits == pytest.approx(usual | stated)


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ({"cases": 5}, "cases"),
        ({"cases": 50.0}, "cases"),
        ({"seed": -1}, "seed"),
        ({"method": "ltin"}, 'did you mean "latin"'),
        ({"measures": "mesh_torque_vibratry"}, "mesh_torque_vibratory"),
        ({"measures": []}, "holds none"),
        ({"measures": "unloaded_mesh_torque_ripple", "limit": "50 mm"}, "torque is needed"),
        ({"limit": "fifty"}, "limit"),
        ({"limit": float("nan")}, "limit"),
        ({"limits": {"plate_twist": "3 deg"}}, "plate_twist_max"),
    ],
)
def test_a_question_that_cannot_be_is_refused_with_what_to_write(asked, words):
    with pytest.raises(cs.LineError, match=words):
        cs.uncertainty(LINE, AHEAD, **asked)


def test_faults_of_a_question_are_told_together():
    with pytest.raises(cs.LineError) as caught:
        cs.uncertainty(LINE, AHEAD, cases=1, seed=-4, method="dice")
    assert [fault.path for fault in caught.value.faults] == ["cases", "seed", "method"]


def test_a_line_without_ranges_has_no_band():
    with pytest.raises(cs.LineError, match="no value that this condition asks for has a range"):
        cs.uncertainty(exact_but(), AHEAD)


def test_a_mesh_that_carries_nothing_has_no_band():
    with pytest.raises(cs.LineError, match=r"mesh_torque_vibratory.*has no value in neutral.*unloaded_mesh"):
        cs.uncertainty(LINE, NEUTRAL, 20, measures="mesh_torque_vibratory")
