"""The full report on the plate: over speed, over the duty diary, and the misfiring ladder."""

import pytest

import calmshaft as cs
from calmshaft.reports import plate_view
from calmshaft.reports.figures import Pictures
from calmshaft.reports.parts import Points, Table

SPRUNG = cs.sample_line("harbour-launch").with_plate("plate-d")


@pytest.fixture(scope="module")
def full():
    return cs.report(SPRUNG, full=True)


def parts(section, kind):
    return [part for part in section.parts if isinstance(part, kind)]


def test_the_full_page_has_the_plate_over_speed_its_life_and_the_ladder(full):
    assert "<h2>12 The plate over speed" in full.html
    assert "<h2>13 The plate&#39;s life over the duty diary" in full.html
    for words in ("Twist and stages over speed", "Torque and heat over speed", "One cylinder at a time"):
        assert words in full.html
    assert len(full.html.encode()) < 3_000_000


def test_the_short_page_leaves_them_out():
    html = cs.report(SPRUNG).html
    assert "Duty diary" not in html
    assert "falling strength" not in html


def test_a_healthy_diary_is_asked_with_a_weak_cylinder_and_one_with_misfiring_as_it_is():
    table = parts(plate_view.life(SPRUNG, 0), Table)[0]
    assert [row[5] for row in table.rows[1:6]] == ["any one cylinder at 50 % strength"] * 5
    diary = {"conditions": [{"name": "cruise", "share": "100 %", "rpm": 2100, "misfiring": "3"}]}
    ill = cs.line_from_document({**SPRUNG.document, "diary": diary})
    section = plate_view.life(ill, 0)
    assert [row[:2] for row in parts(section, Table)[0].rows[1:]] == [["cruise", "100 %"]]
    assert not any("assumed" in one for one in parts(section, Points)[0].items)


def test_the_ladder_has_a_row_a_strength_and_fuelling():
    table, said = plate_view.ladder(SPRUNG, cs.Condition(800), 0)
    assert len(table.rows) == 1 + 5 * 2
    assert any("the worst is" in one for one in said.items)


def test_capacity_in_the_report_is_that_over_speed():
    ds = plate_view.found_over_speed(SPRUNG, 0)
    section = plate_view.over_speed(SPRUNG, ds, Pictures(SPRUNG, False))
    rows = parts(section, Table)[0].rows
    assert rows[1][1] == f"{float(ds.torque_mean.sel(misfiring='none').max()):.0f} N m, 2,600"


def test_a_rigid_drive_has_neither():
    rigid = cs.line_from_document({**SPRUNG.document, "plate": {"kind": "rigid"}})
    assert plate_view.found_over_speed(rigid, 0) is None
    assert plate_view.life(rigid, 0) is None
