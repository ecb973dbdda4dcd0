"""The side view shows what the line holds: cylinders, ratio, inertias and stiffnesses, with every text readable."""

import itertools
import math

import numpy as np
import pytest

import calmshaft as cs
from calmshaft import _core, plots
from calmshaft.plots import labels, machine, mass_row
from calmshaft.runs import cylinders, prepared

LAUNCH = cs.sample_line("harbour-launch")
IDLE = cs.Condition(800)
TOUCH = 0.25  # [mm] by which the boxes of two texts may overlap: boxes hold room above and below the letters


def changed(changes, engine=None, title=None):
    document = LAUNCH.document
    document["engine"].update(engine or {})
    document["title"] = title or document["title"]
    for (section, key), value in changes.items():
        document[section][key] = value
    return cs.line_from_document(document, "made up")


def vee():
    pairs = [dict(LAUNCH.document["gearbox"]["unloaded"][0], name=name) for name in ("free pair", "idler", "take-off")]
    engine = {"cylinders": 8, "layout": "vee", "bank_angle": "90 deg", "firing_order": [1, 5, 4, 2, 6, 3, 7, 8]}
    return changed({("gearbox", "unloaded"): pairs}, engine)


def one_cylinder():
    engine = {"cylinders": 1, "firing_order": [1], "rated_torque": "40 N*m"}
    return changed({("shaft", "length"): "0.2 m"}, engine)


def twelve():
    return changed({}, {"cylinders": 12, "firing_order": [1, 5, 3, 6, 2, 4, 12, 8, 10, 7, 11, 9]})


def hostile():
    title = r"$\frac{unclosed$ _name_ & <b> " + "very long title without an end " * 9 + "W" * 120
    pair = dict(LAUNCH.document["gearbox"]["unloaded"][0], name="$x^$ a name of a pair that goes on and on and on")
    return changed({("gearbox", "unloaded"): [pair], ("shaft", "divisions"): 8}, title=title)


CASES = {
    "launch": (LAUNCH, IDLE),
    "six with a dead cylinder": (cs.sample_line("harbour-launch-six"), cs.Condition(700, misfiring=[3])),
    "vee": (vee(), cs.Condition(1200, misfiring={2: 0.0, 5: 0.5})),
    "rigid": (LAUNCH.with_plate({"kind": "rigid"}), IDLE),
    "rigid in neutral": (LAUNCH.with_plate({"kind": "rigid"}), cs.Condition(800, "neutral")),
    "two stages astern": (LAUNCH.with_plate("plate-b"), cs.Condition(900, "astern")),
    "neutral": (LAUNCH, cs.Condition(800, "neutral")),
    "one cylinder": (one_cylinder(), cs.Condition(1200)),
    "twelve in line": (twelve(), cs.Condition(1200, misfiring={3: 0.0, 4: 0.5, 5: 0.25})),
    "hostile": (hostile(), IDLE),
}


@pytest.fixture(scope="module", params=list(CASES))
def drawn(request):
    line, at = CASES[request.param]
    ax = plots.side_view(line, at)
    ax.figure.canvas.draw()
    return line, at, ax


def system_of(line, at):
    return _core.mass_elastic_system(prepared(line), at.core(cylinders(line)), 720)


def by_name(ax, start):
    """Artists whose id begins so."""
    artists = [*ax.patches, *ax.lines, *ax.texts]
    return [artist for artist in artists if str(artist.get_gid() or "").startswith(start)]


def words(ax):
    return [text.get_text() for text in ax.texts]


def test_every_text_is_on_the_paper_and_none_stands_on_another(drawn):
    _, _, ax = drawn
    inverse = ax.transData.inverted()
    boxes = [(text.get_text(), inverse.transform_bbox(text.get_window_extent())) for text in ax.texts]
    for text, box in boxes:
        assert box.x0 >= 0, text
        assert box.x1 <= machine.PAPER, text
    for (one, a), (other, b) in itertools.combinations(boxes, 2):
        across = min(a.x1, b.x1) - max(a.x0, b.x0)
        up = min(a.y1, b.y1) - max(a.y0, b.y0)
        assert min(across, up) < TOUCH, (one, other)


def test_letters_are_large_enough_for_a_print_160_mm_wide(drawn):
    _, _, ax = drawn
    assert ax.figure.get_figwidth() * 25.4 == pytest.approx(160)
    assert min(text.get_fontsize() for text in ax.texts) >= 6.0


def test_there_is_a_numbered_cylinder_for_each_of_the_engine(drawn):
    line, at, ax = drawn
    count = cylinders(line)
    assert len(by_name(ax, "cylinder ")) == count
    strengths = at.strengths(count) or [1.0] * count
    dead = {artist.get_gid() for artist in by_name(ax, "dead ")}
    assert dead == {f"dead {number}" for number, strength in enumerate(strengths, 1) if strength == 0.0}
    weak = {number: f"{100 * strength:g}%" for number, strength in enumerate(strengths, 1) if 0.0 < strength < 1.0}
    assert {f"weak {number}": share for number, share in weak.items()} == {
        text.get_gid(): text.get_text() for text in by_name(ax, "weak ")
    }


def test_every_station_has_a_disc_whose_area_is_its_inertia_at_the_crank(drawn):
    line, at, ax = drawn
    system = system_of(line, at)
    stations = system["stations"]
    inertia = np.array([s["inertia"] * s["speed_ratio"] ** 2 for s in stations])
    inertia[0] += system["tables"]["inertia"].mean()
    radii = np.array([disc.get_radius() for disc in by_name(ax, "disc ")])
    assert radii.size == len(stations)
    true = mass_row.LARGEST * np.sqrt(inertia / inertia.max())
    assert radii == pytest.approx(np.maximum(true, mass_row.SMALLEST))


def test_springs_are_drawn_for_the_plate_and_each_piece_of_the_shaft(drawn):
    line, at, ax = drawn
    kinds = [coupling["kind"] for coupling in system_of(line, at)["couplings"]]
    assert len(by_name(ax, "spring")) == kinds.count("spring") + kinds.count("staged damper")
    assert len(by_name(ax, "plate spring")) == (0 if line.core.plate.rigid else 2)


def test_values_stand_beside_what_they_belong_to():
    said = "\n".join(words(plots.side_view(LAUNCH, IDLE)))
    for text in (
        "plate 45 N m/deg\nfree play 1 deg",
        "gearbox input\n0.024 kg m²",
        "gears 2 : 1\nplay 0.25 deg\n10,472 N m/deg",
        "propeller\n0.114 kg m²\n(at the crank 0.0285)",
        "shaft\n35 mm, 2.2 m long",
        "4 cylinders inline, 92 x 98 mm",
        "800 rpm, ahead",
    ):
        assert text in said
    referred = 5290.253 * math.radians(1) / 4
    assert f"(at the crank {referred:.3g})" in said


def test_stages_of_a_plate_are_told_in_order():
    said = words(plots.side_view(LAUNCH.with_plate("plate-b"), IDLE))
    assert any("plate 9 then 16 N m/deg" in text for text in said)


def test_a_shaft_in_pieces_carries_the_stiffness_of_its_whole_length():
    divided = words(plots.side_view(changed({("shaft", "divisions"): 8}), IDLE))
    assert any("shaft 92.3 N m/deg, in 8 pieces" in text for text in divided)


def test_a_long_shaft_is_broken_and_a_short_one_is_not():
    assert by_name(plots.side_view(LAUNCH, IDLE), "break mark")
    short = plots.side_view(one_cylinder(), IDLE)
    assert not by_name(short, "break mark")
    sizes = machine.machine_of(one_cylinder(), IDLE)
    assert by_name(short, "shaft")[0].get_width() == pytest.approx(0.2 * sizes.scale)


def test_known_sizes_are_drawn_to_one_scale():
    ax, sizes = plots.side_view(LAUNCH, IDLE), machine.machine_of(LAUNCH, IDLE)
    assert by_name(ax, "piston 1")[0].get_width() == pytest.approx(0.94 * 0.092 * sizes.scale)
    assert by_name(ax, "shaft")[0].get_height() == pytest.approx(0.035 * sizes.scale)
    blade = by_name(ax, "blade")[0].get_xy()[:, 1]
    assert blade.max() - blade.min() == pytest.approx(0.46 / 2 * sizes.scale)
    stroke = [by_name(ax, f"piston {number}")[0].get_y() for number in (1, 2)]
    assert stroke[0] - stroke[1] == pytest.approx(0.098 * sizes.scale)  # half a turn apart


def test_gears_have_radii_by_the_ratio_and_meet():
    ax, sizes = plots.side_view(LAUNCH, IDLE), machine.machine_of(LAUNCH, IDLE)
    pinion, wheel = (by_name(ax, name)[0] for name in ("input gear", "output gear"))
    assert wheel.get_height() / pinion.get_height() == pytest.approx(2.0)
    assert pinion.get_y() == pytest.approx(wheel.get_y() + wheel.get_height())
    assert pinion.get_height() + wheel.get_height() == pytest.approx(2 * sizes.centres * sizes.scale)


def test_in_neutral_the_output_side_is_pale_and_has_no_disc():
    ax = plots.side_view(LAUNCH, cs.Condition(800, "neutral"))
    ahead = plots.side_view(LAUNCH, IDLE)
    assert by_name(ax, "shaft")[0].get_edgecolor() != by_name(ahead, "shaft")[0].get_edgecolor()
    assert len(by_name(ax, "disc ")) == 3
    assert "gearbox\nin neutral" in words(ax)
    assert not any("gears 2" in text for text in words(ax))


def test_astern_is_told_as_reversed():
    said = words(plots.side_view(LAUNCH, cs.Condition(800, "astern")))
    assert "gearbox\nastern, 2 : 1" in said
    assert any("gears 2 : 1, reversed" in text for text in said)


def test_a_line_without_output_side_is_drawn_up_to_the_gearbox():
    document = LAUNCH.document
    for part in ("shaft", "propeller"):
        del document[part]
    del document["gearbox"]["ahead"], document["gearbox"]["astern"]
    ax = plots.side_view(cs.line_from_document(document), cs.Condition(800, "neutral"))
    assert not by_name(ax, "shaft")
    assert not by_name(ax, "blade")
    assert by_name(ax, "gearbox")


def test_it_draws_on_the_axes_given():
    figure = plots.side_view(LAUNCH, IDLE).figure
    ax = figure.add_axes((0, 0, 0.5, 0.5))
    assert plots.side_view(LAUNCH, IDLE, ax) is ax


def test_a_condition_that_does_not_fit_is_refused_by_the_line():
    with pytest.raises(cs.LineError, match="cylinders 1 to 4"):
        plots.side_view(LAUNCH, cs.Condition(800, misfiring=[9]))


def test_a_table_in_place_of_parts_is_not_drawn_as_if_its_shape_were_known():
    with pytest.raises(ValueError, match="describe the parts"):
        plots.side_view(cs.sample_line("harbour-launch-tables"), IDLE)


def test_labels_are_pushed_apart_no_further_than_they_must():
    assert labels.spread([10.0, 50.0], [8.0, 8.0], 0.0, 100.0) == [10.0, 50.0]
    assert labels.spread([50.0, 50.0], [8.0, 8.0], 0.0, 100.0) == [46.0, 54.0]
    assert labels.spread([51.0, 50.0], [8.0, 8.0], 0.0, 100.0) == [54.5, 46.5]
    assert labels.spread([98.0, 99.0], [8.0, 8.0], 0.0, 100.0) == [88.0, 96.0]
    assert labels.spread([1.0], [8.0], 0.0, 100.0) == [4.0]
    assert labels.spread([], [], 0.0, 1.0) == []
