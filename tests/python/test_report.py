"""The report: one page that stands alone, says what decided, and cannot be broken by what people write into it."""

import json
import re
from html.parser import HTMLParser

import pytest
from typer.testing import CliRunner

import calmshaft as cs
from calmshaft.app import app

LAUNCH = cs.sample_line("harbour-launch")
HOSTILE = '<script>alert("x")</script> & "quotes"'


@pytest.fixture(scope="module")
def made():
    return cs.report(LAUNCH, notes=HOSTILE)


class Page(HTMLParser):
    """Elements seen, and whether every one is closed."""

    VOID = ("meta", "link", "br", "img", "path", "use", "rect", "image")

    def __init__(self, text):
        super().__init__()
        self.seen, self.open, self.attributes = [], [], []
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        self.seen.append(tag)
        self.attributes += [(tag, *one) for one in attrs]
        if tag not in self.VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag, attrs):
        self.seen.append(tag)
        self.attributes += [(tag, *one) for one in attrs]

    def handle_endtag(self, tag):
        if tag not in self.VOID:
            assert self.open.pop() == tag


def test_the_page_stands_alone_and_is_well_formed(made):
    page = Page(made.html)
    assert not page.open
    assert page.seen.count("h1") == 1
    assert "script" not in page.seen
    links = [value for _, name, value in page.attributes if name in ("src", "href", "xlink:href")]
    assert all(link.startswith(("#", "data:")) for link in links)
    assert len(made.html.encode()) < 3_000_000


def test_ids_of_all_pictures_differ_and_every_reference_has_its_id(made):
    ids = re.findall(r'\bid="([^"]+)"', made.html)
    assert len(ids) == len(set(ids))
    assert set(re.findall(r'href="#([^"]+)"', made.html)) <= set(ids)


def test_what_people_write_is_shown_and_not_run(made):
    assert "<script>" not in made.html
    assert "&lt;script&gt;" in made.html
    odd = LAUNCH.replace({})
    line = cs.line_from_document({**odd.document, "title": HOSTILE})
    assert "<script>" not in cs.report(line).html


def test_every_verdict_stands_on_the_page_and_in_the_data(made):
    for one in made.result["verdicts"]:
        assert one["finding"] in made.html
    assert {one["word"] for one in made.result["verdicts"]} <= {"within", "near", "over", "not judged"}


def test_the_cautions_and_what_is_not_judged_are_said(made):
    assert "approves nothing" in made.html
    assert "licensed" in made.html
    assert "crank is taken as rigid" in made.html
    visible = re.sub(r"<[^>]+>", " ", made.html).lower()
    for word in ("permitted", " safe ", "approved", " pass "):
        assert word not in visible


def test_every_value_has_its_source_in_the_data(made):
    values = made.result["values"]
    assert values["flywheel.inertia"]["source"] == "measured"
    assert {one["source"] for one in values.values()} <= {"given", "measured", "maker", "estimated"}
    assert set(values) == set(LAUNCH.quantities)


def test_the_full_form_says_how_each_estimate_is_measured():
    full = cs.report(LAUNCH, full=True).html
    assert "how to measure it" in full
    estimated = [path for path, one in LAUNCH.quantities.items() if one.source == "estimated"]
    assert all(path in full for path in estimated)


def test_a_line_that_ends_at_the_gearbox_is_reported_in_neutral():
    document = {key: part for key, part in LAUNCH.document.items() if key not in ("shaft", "propeller")}
    made = cs.report(cs.line_from_document(document))
    assert {one["gear"] for one in made.result["verdicts"]} == {"neutral", "any"}


def test_the_command_writes_page_and_data(tmp_path):
    arguments = ["report", "harbour-launch", "--out", str(tmp_path / "r.html")]
    assert CliRunner().invoke(app, arguments).exit_code == 1
    assert json.loads((tmp_path / "result.json").read_text())["title"] == LAUNCH.title
    assert (tmp_path / "r.html").read_text().startswith("<!DOCTYPE html>")


def test_a_page_of_another_kind_is_refused_and_nothing_written(tmp_path):
    result = CliRunner().invoke(app, ["report", "harbour-launch", "--out", str(tmp_path / "r.pdf")])
    assert result.exit_code == 2
    assert "must end in .html" in result.stderr
    assert not list(tmp_path.iterdir())
