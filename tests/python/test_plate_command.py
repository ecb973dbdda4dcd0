"""`calmshaft plate`, and the picture of a plate."""

import json
import math

import pytest
from typer.testing import CliRunner

import calmshaft as cs
from calmshaft.app import app
from calmshaft.line import LINES
from calmshaft.plots.plate_front import places, plate_front
from calmshaft.plots.plate_sheet import named_curve, plate_sheet
from calmshaft.uncertainties.cases import Family
from calmshaft.workshop import plate_alone

D = plate_alone(cs.load_plate("plate-d"))


def ran(*words):
    return CliRunner().invoke(app, ["plate", *map(str, words)])


def test_the_command_names_rates_corners_and_what_stops_the_plate():
    found = ran("plate-d")
    assert found.exit_code == 0
    for words in ("soft springs touched", "main springs, squeezed, touched", "inner springs touched", "hub on its stop",
                  "taken as a steep step over 0.055 deg", "Stopped in drive at 15 deg; the springs carry 241 N m",
                  "within      coil bind: the coils of main springs touch at 22.55 deg in coast",
                  "(current table)", "A study aid"):  # fmt: skip
        assert words in found.stdout


def test_plates_of_stages_and_whole_lines_are_shown_too():
    assert "next stage begins" in ran("plate-b").stdout
    assert ran("harbour-launch").stdout.startswith("plate A, of the six")


def test_coil_bind_before_the_stop_is_over(tmp_path):
    path = tmp_path / "plate.toml"
    path.write_text((LINES / "plate-d.toml").read_text().replace('stop_angle = "15 deg"', 'stop_angle = "30 deg"'))
    found = ran(path)
    assert found.exit_code == 1
    assert "over        coil bind: the coils of main springs touch at" in found.stdout
    assert "main springs solid" in found.stdout
    path.write_text(path.read_text().replace('stop_angle = "30 deg"', ""))
    assert "not judged  coil bind" in ran(path).stdout


def test_a_wrong_measure_is_told_with_its_line(tmp_path):
    path = tmp_path / "plate.toml"
    path.write_text((LINES / "plate-d.toml").read_text().replace('"25.0 mm"', '"7.5 mm"'))
    found = ran(path)
    assert found.exit_code == 2
    line = next(n for n, text in enumerate(path.read_text().splitlines(), 1) if '"7.5 mm"' in text)
    told = f"plate.toml:{line}: plate.springs[1].coil_outer_diameter is 7.5 mm: is not more than twice the wire of 4 mm"
    assert told in found.output


def test_the_document_holds_the_curve_in_si():
    found = json.loads(ran("plate-d", "--json").stdout)
    assert found["drive"]["stop_angle"] == pytest.approx(math.radians(15))
    last = found["drive"]["corners"][-1]
    carried = sum(one["force_at_stop"] * one["count"] * 0.062 for one in found["springs"])
    assert last["torque"] == pytest.approx(carried)


def test_the_picture_is_written_and_names_every_corner(tmp_path):
    assert ran("plate-d", "--out", tmp_path).exit_code == 0
    assert (tmp_path / "plate-d.png").read_bytes().startswith(b"\x89PNG")
    said = " ".join(text.get_text() for text in named_curve(D).texts)
    for corner in (*D.corners("drive"), *D.corners("coast")):
        assert corner.words in said
    assert len(plate_sheet(plate_alone(cs.load_plate("plate-b"))).axes) == 1


def test_every_spring_is_drawn_once_and_the_inner_ones_lie_in_the_outer():
    found = [(group.name, round(angle, 9)) for _, group, angle in places(D.springs)]
    assert len(found) == len(set(found)) == 9
    angles = {name: {a for other, a in found if other == name} for name in ("main springs", "inner springs")}
    assert angles["main springs"] == angles["inner springs"]
    assert plate_front(D.springs).patches


def test_check_tells_what_is_derived(tmp_path):
    launch, plate = ((LINES / f"{name}.toml").read_text() for name in ("harbour-launch", "plate-d"))
    path = tmp_path / "launch.toml"
    begin, end = launch.index("[plate]"), launch.index("[gearbox]")
    path.write_text(launch[:begin] + plate[plate.index("[plate]") :] + "\n" + launch[end:])
    found = CliRunner().invoke(app, ["check", str(path)]).stdout
    row = next(one for one in found.splitlines() if "plate.stages[0].stiffness " in one)
    assert [part for part in ("5.573", "5.261", "5.885", "derived", "springs by calipers") if part not in row] == []
    # stiffness and end of 4 stages a side but the last end, and the play
    assert "15 derived from what was measured of the plate" in found
    swings = found[found.index("What matters most") :]
    assert "plate.stages" not in swings  # they follow from the springs, whose readings swing


def test_a_case_of_a_plate_by_calipers_follows_from_its_springs():
    """Rate N G d^4 R^2 / (8 D^3 n): the least wire of all groups and the largest say so, coil diameter held."""
    line = cs.sample_line("harbour-launch").with_plate("plate-d")
    family = Family(line)
    base, _ = family.member({})
    assert repr(base) == repr(line.core)
    wires = [path for path in family.ranges if path.endswith("wire_diameter")]
    thick, _ = family.member(dict.fromkeys(wires, 1.0))
    wire, coil = (family.ranges[f"plate.springs[0].{key}"] for key in ("wire_diameter", "coil_outer_diameter"))
    mean = [coil.value - one for one in (wire.value, wire.high)]
    ratio = (wire.high / wire.value) ** 4 * (mean[0] / mean[1]) ** 3
    first = [one.plate.drive.stages[0].stiffness for one in (base, thick)]
    assert first[1] / first[0] == pytest.approx(ratio, rel=1e-3)  # the first stage is springs 0 alone
