"""Worksheets: one page each, sums that come out as printed and as the workshop functions, entries that a line takes."""

import copy
import re
import shutil
import subprocess
import tomllib
from html.parser import HTMLParser

import pytest
from typer.testing import CliRunner

import calmshaft as cs
from calmshaft import estimates, workshop
from calmshaft.app import app
from calmshaft.uncertainties.ranges import how_to_measure
from calmshaft.worksheets import worksheet, worksheets

NAMES = ("hang", "drag", "backlash", "springs", "bench")
BOTH = [(name, units) for name in NAMES for units in ("metric", "imperial")]
# printed numbers have four digits, so each factor is off by half of the last at most; a wire counts four times
PRINTED = 2e-3
INCH, POUND, POUND_FORCE = 0.0254, 0.45359237, 4.4482216152605  # [m], [kg], [N] exact by definition
LAUNCH = cs.sample_line("harbour-launch")


def worked(numbers):
    """What somebody with a calculator makes of a printed sum."""
    powers = str.maketrans({"×": "*", "÷": "/", "²": "**2", "³": "**3", "⁴": "**4", ",": ""})
    expression = numbers.translate(powers)
    assert re.fullmatch(r"[\d.*/()\s+-]+", expression), numbers
    return eval(expression)


def answer(row):
    return float(row.answer.split()[0].replace(",", ""))


@pytest.mark.parametrize(("name", "units"), BOTH)
def test_each_printed_sum_comes_out_as_printed(name, units):
    rows = worksheet(name, units).sums
    assert rows
    for row in rows:
        assert worked(row.numbers) == pytest.approx(answer(row), rel=PRINTED)


def test_the_metric_answers_are_those_of_the_workshop_functions():
    period = workshop.swing_time(60.9, 30)
    hung = workshop.trifilar(26, 0.150, 1.5, period).value
    assert answer(worksheet("hang").sums[-1]) == pytest.approx(hung, rel=PRINTED)
    assert answer(worksheet("drag").sums[-1]) == pytest.approx(workshop.drag(40, 0.060).value, rel=PRINTED)
    dial = workshop.backlash(0.26e-3, 0.120, 2.0).value * 57.29578  # degrees in a radian
    assert answer(worksheet("backlash").sums[-1]) == pytest.approx(dial, rel=PRINTED)
    spring = workshop.Spring(0.004, 0.025, 0.050, total_coils=7, material="chrome-silicon")
    *_, rate, stiffness = worksheet("springs").sums
    assert answer(rate) == pytest.approx(spring.rate / 1000, rel=PRINTED)
    assert answer(stiffness) == pytest.approx(3 * spring.rate * 0.062**2 / 57.29578, rel=PRINTED)


def test_the_imperial_answers_are_those_of_the_workshop_functions():
    period = workshop.swing_time(61.4, 30)
    hung = workshop.trifilar(57 * POUND, 6 * INCH, 60 * INCH, period).value / (POUND * (12 * INCH) ** 2)
    assert answer(worksheet("hang", "imperial").sums[-1]) == pytest.approx(hung, rel=PRINTED)
    spring = workshop.Spring(0.157 * INCH, 0.984 * INCH, 1.97 * INCH, total_coils=7, material="chrome-silicon")
    rate = worksheet("springs", "imperial").sums[-2]
    assert rate.answer.endswith("lbf/in")
    assert answer(rate) == pytest.approx(spring.rate / (POUND_FORCE / INCH), rel=PRINTED)


@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_the_line_file_finds_in_the_bench_readings_what_the_sheet_finds(units):
    made = worksheet("bench", units)
    plate = cs.line_from_document({**LAUNCH.document, **tomllib.loads(made.entry)}).core.plate
    torque = {"metric": 1.0, "imperial": POUND_FORCE * 12 * INCH}[units]
    *_, stiffness, width = made.sums
    assert plate.drive.stages[1].stiffness == pytest.approx(answer(stiffness) * torque * 57.29578, rel=PRINTED)
    assert plate.hysteresis_full_width == pytest.approx(answer(width) * torque, rel=PRINTED)


@pytest.mark.parametrize(("name", "units"), BOTH)
def test_a_line_takes_the_entry_and_makes_the_sum_of_it(name, units):
    made, document = worksheet(name, units), {**LAUNCH.document}
    for section, keys in tomllib.loads(made.entry).items():
        kept = copy.deepcopy(document[section]) if section == "gearbox" else {}
        kept.get("ahead", {}).pop("backlash", None)  # the sheet gives its readings instead
        document[section] = {**kept, **{key: {**kept.get(key, {}), **value} if key == "ahead" else value
                                        for key, value in keys.items()}}  # fmt: skip
    line = cs.line_from_document(document)
    key = {"hang": "flywheel.inertia", "drag": "gearbox.input_drag", "backlash": "gearbox.ahead.backlash"}.get(name)
    if key:
        found = line.quantities[key]
        low, high = map(float, re.findall(r"[\d.]+", made.sums[-1].spread))
        unsure = (high - low) / 2 / answer(made.sums[-1])
        assert (found.high - found.low) / 2 / found.value == pytest.approx(unsure, rel=0.05)  # two digits are written


class Page(HTMLParser):
    def __init__(self, html):
        super().__init__()
        self.tags, self.headings, self._open = [], [], ""
        self.feed(html)

    def handle_starttag(self, tag, attributes):
        self.tags.append((tag, dict(attributes)))
        self._open = tag

    def handle_data(self, data):
        if self._open in ("h1", "h2") and data.strip():
            self.headings.append(data.strip())


@pytest.mark.parametrize(("name", "units"), BOTH)
def test_a_sheet_says_what_to_do_and_read_the_sum_the_key_and_the_caution_and_stands_alone(name, units):
    html = worksheet(name, units).html
    page = Page(html)
    tags = [tag for tag, _ in page.tags]
    assert tags.count("h1") == tags.count("svg") == tags.count("aside") == tags.count("pre") == 1
    said = " ".join(page.headings)
    for heading in ("What to do", "What to read", "The sum", "Where it goes", "Caution"):
        assert heading in said
    assert tags.count("li") >= 8  # steps and cautions
    assert sum(tag == "td" and not about.get("class", "").startswith("example") for tag, about in page.tags) >= 10
    (drawing,) = (about for tag, about in page.tags if tag == "svg")
    assert len(drawing["aria-label"]) > 40
    assert not {"script", "link", "img"} & set(tags)
    assert not re.findall(r"(?:href|src)=|url\(", html)
    assert "size: A4" in html
    assert "approval" in html


def test_an_imperial_sheet_has_no_metric_unit_in_what_is_read_and_found():
    for name in NAMES:
        made = worksheet(name, "imperial")
        assert not re.search(r"\d (mm|kg|N m|N)\b", made.entry + " ".join(row.answer for row in made.sums))


@pytest.mark.skipif(shutil.which("chromium") is None, reason="needs chromium; what a page holds is tested without it")
@pytest.mark.parametrize(("name", "units"), BOTH)
def test_each_sheet_is_one_page(name, units, tmp_path):
    page, printed = tmp_path / "sheet.html", tmp_path / "sheet.pdf"
    page.write_text(worksheet(name, units).html, encoding="utf-8")
    subprocess.run(
        ["chromium", "--headless", "--no-sandbox", f"--print-to-pdf={printed}", "--no-pdf-header-footer", str(page)],
        check=True, capture_output=True, timeout=60,
    )  # fmt: skip
    assert len(re.findall(rb"/Type\s*/Page[^s]", printed.read_bytes())) == 1


def test_estimates_name_worksheets_that_there_are():
    named = set(re.findall(r"`calmshaft worksheet (\w+)`", " ".join(rule.how_to_measure for rule in estimates.rules())))
    assert named == {"hang", "drag", "backlash", "bench"}
    assert named < set(worksheets())


def test_a_plate_that_nobody_measured_is_sent_to_the_bench():
    stiffness = LAUNCH.quantities["plate.stages[0].stiffness"]
    words = how_to_measure("plate.stages[0].stiffness", stiffness)
    assert "`calmshaft worksheet bench`" in words
    assert "eye protection" in words


def called(*arguments, code):
    result = CliRunner().invoke(app, ["worksheet", *map(str, arguments)])
    assert result.exit_code == code, result.output
    return result


def test_without_a_name_all_are_listed():
    out = called(code=0).stdout
    assert tuple(worksheets()) == NAMES
    assert all(name in out for name in NAMES)
    assert "gearbox.pull" in out


def test_the_page_is_written_where_it_is_asked_for_or_under_its_name(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    called("drag", "--out", "here/sheet.html", "--units", "imperial", code=0)
    assert "lbf ft" in (tmp_path / "here/sheet.html").read_text(encoding="utf-8")
    called("hang", code=0)
    assert (tmp_path / "hang.html").read_text(encoding="utf-8").startswith("<!DOCTYPE html>")


def test_bad_names_units_and_files_are_all_told_and_nothing_is_written(tmp_path):
    error = called("hnag", "--units", "imprial", "--out", tmp_path / "new" / "sheet.pdf", code=2).stderr
    for words in ("did you mean hang?", "write metric or imperial", "must end in .html"):
        assert words in error
    assert "write hang, drag" in called("zzzz", "--out", tmp_path / "new" / "a.html", code=2).stderr
    assert not (tmp_path / "new").exists()
