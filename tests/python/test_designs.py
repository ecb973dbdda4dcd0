"""Designs: what a sweep runs over, made as it is asked for, and axes that are refused before anything runs."""

import itertools
import pickle
import time
import tracemalloc

import numpy as np
import pytest
import xarray as xr
from hypothesis import given, settings
from hypothesis import strategies as st

import calmshaft as cs
from calmshaft.designs import design_of
from calmshaft.line import LINES

LINE = cs.sample_line("harbour-launch")
PLATES = {"as found": cs.load_plate("plate-b"), "soft": LINES / "plate-c.toml"}
AXES = {
    "plate.stiffness": ([10.0, 16.0], "N*m/deg"),
    "rpm": [800, 1200, 1600],
    "gear": ["ahead", "neutral"],
    "misfiring": ["none", {3: 0.5}, [1, 2]],
}


@pytest.fixture(scope="module")
def design():
    return design_of(LINE, AXES)


def listed(axes):
    """The points of a product written out, each as its line and condition."""
    values, unit = axes["plate.stiffness"]
    lines = [LINE.replace({"plate.stiffness": f"{value} {unit}"}) for value in values]
    return [
        (line, cs.Condition(rpm, gear, misfiring))
        for line, rpm, gear, misfiring in itertools.product(lines, axes["rpm"], axes["gear"], axes["misfiring"])
    ]


POINTS = listed(AXES)


@settings(max_examples=50, deadline=None)
@given(ends=st.tuples(st.integers(0, len(POINTS)), st.integers(0, len(POINTS))))
def test_a_slice_of_a_product_is_that_slice_of_the_written_out_points(design, ends):
    start, stop = sorted(ends)
    lines, index, conditions = design.points(start, stop)
    assert [(lines[i], at) for i, at in zip(index, conditions, strict=True)] == POINTS[start:stop]
    assert len(set(lines)) == len(lines)


def test_a_design_survives_pickling_and_says_what_it_is(design):
    other = pickle.loads(pickle.dumps(design))
    assert other.points(7, 20) == design.points(7, 20)
    assert other.words() == "2 plate.stiffness x 3 rpm x 2 gear x 3 misfiring = 36 points"


def test_a_thousand_million_points_are_described_at_no_cost():
    axes = {
        "rpm": np.linspace(600, 2400, 40_000),
        "propeller.mass": ([*range(5, 30)], "kg"),
        "misfiring": [*range(1, 5)],
    }
    axes["plate.stiffness"] = (np.linspace(8, 60, 250), "N*m/deg")
    tracemalloc.start()
    begun = time.process_time()
    whole = design_of(LINE, axes, cs.Condition(800))
    _, index, _ = whole.points(whole.size - 5, whole.size)
    assert time.process_time() - begun < 5.0
    assert tracemalloc.get_traced_memory()[1] < 40e6  # bytes: the axes, not the points
    tracemalloc.stop()
    assert whole.size == 10**9
    assert len(index) == 5


def test_axes_side_by_side_share_a_dimension_that_the_product_takes_as_one():
    pair = cs.zipped({"rpm": [800, 1200], "plate.stiffness": ([10, 16], "N*m/deg")})
    ds = cs.sweep(LINE, {"pair": pair, "misfiring": ["none", "3"]})
    assert ds.status.dims == ("pair", "misfiring")
    assert list(ds.rpm.values) == [800, 1200]
    assert ds.plate_stiffness.dims == ("pair",)
    whole = cs.sweep(
        LINE, {"rpm": [800, 1200], **{k: v for k, v in pair.axes.items() if k != "rpm"}, "misfiring": ["none", "3"]}
    )
    for place in range(2):
        one = whole.mesh_torque_vibratory.isel(rpm=place, plate_stiffness=place)
        assert np.array_equal(ds.mesh_torque_vibratory.isel(pair=place), one)


def test_plates_are_an_axis_by_their_labels():
    ds = cs.sweep(LINE, {"plate": PLATES, "rpm": [800]})
    assert list(ds.plate.values) == ["as found", "soft"]
    for label, plate in PLATES.items():
        run = cs.steady(LINE.with_plate(plate), cs.Condition(800))
        assert float(ds.mesh_torque_vibratory.sel(plate=label, rpm=800)) == run.measures["mesh_torque_vibratory"]
    assert '"soft"' in ds.attrs["plates"]


def test_a_plate_and_its_stiffness_vary_together():
    (first, *_), _, _ = design_of(
        LINE, {"plate": PLATES, "plate.stiffness": (["20 N*m/deg"])}, cs.Condition(800)
    ).points(0, 2)
    assert first == LINE.with_plate("plate-b").replace({"plate.stiffness": "20 N*m/deg"})


def test_numbers_with_units_are_shown_as_numbers_in_the_first_ones_unit():
    made = design_of(
        LINE, {"plate.stiffness": ["16 N*m/deg", "1000 N*m/rad"], "load": ([20, 30], "N*m")}, cs.Condition(800)
    )
    dim, shown, about = made.coords["plate_stiffness"]
    assert (dim, about["units"]) == ("plate_stiffness", "N*m/deg")
    assert shown == pytest.approx([16, 1000 * np.pi / 180])
    assert made.points(0, 1)[2][0].load == "20.0 N*m"


@pytest.mark.parametrize("method", ["latin hypercube", "sobol", "independent"])
def test_random_points_lie_in_their_ranges_and_come_again_with_their_seed(method):
    def drawn(seed):
        axes = {"plate.stiffness": (8, 60, "N*m/deg"), "rpm": (600, 2400), "misfiring": ["none", "1", "3@50%"]}
        return design_of(LINE, cs.random_points(axes | {"plate": PLATES}, 64, seed=seed, method=method))

    made = drawn(1)
    assert made.dims == ("point",)
    assert made.size == 64
    rpm, stiffness = made.coords["rpm"][1], made.coords["plate_stiffness"][1]
    assert np.all((rpm >= 600) & (rpm < 2400) & (stiffness >= 8) & (stiffness < 60))
    assert set(made.coords["misfiring"][1]) == {"none", "1", "3@50%"}
    assert set(made.coords["plate"][1]) == set(PLATES)
    assert np.array_equal(rpm, drawn(1).coords["rpm"][1])
    assert not np.array_equal(rpm, drawn(2).coords["rpm"][1])
    assert made.attributes()["seed"] == 1
    if method == "latin hypercube":  # one point in each of 64 equal strips
        assert sorted(((rpm - 600) / 1800 * 64).astype(int)) == list(range(64))


def test_a_random_sweep_into_a_file_is_the_one_in_memory(tmp_path):
    points = cs.random_points({"rpm": (800, 1600), "misfiring": ["none", "3"]}, 5, seed=3)
    ds = cs.sweep(LINE, points)
    assert ds.status.dims == ("point",)
    assert ds.rpm.dims == ("point",)
    with cs.sweep(LINE, points, out=tmp_path / "random.nc") as read:
        xr.testing.assert_identical(ds, read.load())


@pytest.mark.parametrize(
    ("axes", "words"),
    [
        (
            {"rpm": [800, float("nan")], "gear": ["ahead", "ahead"], "plate.stifness": [8]},
            ["number 2 of 2", "twice", "plate.stiffness"],
        ),
        ({"rpm": [800], "misfiring": ["7", "8"], "gear": ["ahead", "forward"]}, ["'7'", "'8'", "'forward'"]),
        ({"rpm": [800], "gear": ["ahead"], "flywheel.inertia": ["1 kg", "2 mm"]}, ["'1 kg'", "'2 mm'"]),
        ({"rpm": [800], "plate.stiffness": ([8, -9, -10], "N*m/deg")}, ["-9.0 N", "-10.0 N"]),
        ({"rpm": ([80], "rad/s")}, ["in rpm"]),
        ({"rpm": [800], "plate": [{"kind": "rigid"}]}, ["no label"]),
        ({"rpm": [800], "plate": ["plate-b", "plate-z"]}, ["plate-z"]),
        ({"pair": cs.zipped({"rpm": [800, 900], "gear": ["ahead"]})}, ["2 of rpm, 1 of gear"]),
        ({"pair": cs.zipped({"rpm": [800, 800]})}, ["twice"]),
        ({"status": cs.zipped({"rpm": [800, 900]})}, ["cannot be its name"]),
        ({"rpm": [800], "pair": cs.zipped({"rpm": [800, 900]})}, ["two dimensions"]),
    ],
)  # fmt: skip
def test_axes_that_cannot_be_are_refused_with_all_their_faults(axes, words):
    with pytest.raises(cs.LineError) as caught:
        cs.sweep(LINE, axes)
    for word in words:
        assert word in str(caught.value)


@pytest.mark.parametrize(
    ("axes", "how", "words"),
    [
        ({"rpm": (2400, 600)}, {}, "no range"),
        ({"rpm": 800}, {}, "neither a range nor a list"),
        ({"rpm": (600, 2400)}, {"count": 0}, "at least one point"),
        ({"rpm": (600, 2400)}, {"method": "dice"}, "latin hypercube"),
    ],
)
def test_random_points_that_cannot_be_are_refused(axes, how, words):
    with pytest.raises(cs.LineError, match=words):
        cs.random_points(axes, **{"count": 5, **how})
