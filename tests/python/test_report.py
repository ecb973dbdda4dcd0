"""The report: one page that stands alone, says what decided, and cannot be broken by what people write into it."""

import copy
import errno
import json
import os
import re
import tempfile
from html.parser import HTMLParser

import pytest
from typer.testing import CliRunner

import calmshaft as cs
from calmshaft.app import app
from calmshaft.judgement.cautions import CAUTIONS
from calmshaft.output import write_text
from calmshaft.reports.installation import part_rows
from calmshaft.reports.sureness import key_words

LAUNCH = cs.sample_line("harbour-launch")
HOSTILE = '<script>alert("x")</script> & "quotes"'


@pytest.fixture(scope="module")
def made():
    return cs.report(LAUNCH, notes=HOSTILE)


@pytest.fixture(scope="module")
def full():
    return cs.report(LAUNCH, full=True)


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


def test_every_verdict_stands_on_the_full_page_and_in_the_data(made, full):
    for one in made.result["verdicts"]:
        assert one["finding"] in full.html


def test_the_short_page_has_of_every_respect_the_verdict_nearest_to_its_limit(made):
    judged = [one for one in made.verdicts if one.word != "not judged"]
    for one in judged:
        alike = [other for other in judged if (other.subject, other.cylinders) == (one.subject, one.cylinders)]
        assert max(alike, key=lambda other: other.value / other.limit).finding in made.html
    assert all(one.finding in made.html for one in made.verdicts if one.word == "not judged")


def test_a_long_document_wraps_so_that_the_margin_stays_on_the_paper():
    document = copy.deepcopy(LAUNCH.document)
    sheet = "data sheet of the gearbox, clause 7.3, second edition, with its supplement"
    document["limits"] = {"gearbox_greatest_torque": {"value": "400 N*m", "document": sheet}}
    page = cs.report(cs.line_from_document(document)).html
    assert re.search(rf'<td class="long">400 N m \({sheet}\)</td>', page)
    assert ".tight td.long { white-space: normal;" in page


def test_every_word_of_judgement_stands_on_the_page(made):
    assert {one["word"] for one in made.result["verdicts"]} <= {"within", "near", "over", "not judged"}


def test_the_cautions_and_what_is_not_judged_are_said(made):
    assert all(heading in made.html for heading in CAUTIONS)
    assert "It approves nothing" in made.html
    assert "licensed" in made.html
    assert "Crankshaft stress and front end: not judged" in made.html
    visible = re.sub(r"<[^>]+>", " ", made.html).lower()
    for word in ("permitted", " safe ", "approved", " pass "):
        assert word not in visible


def test_every_value_has_its_source_in_the_data(made):
    values = made.result["values"]
    assert values["flywheel.inertia"]["source"] == "measured"
    assert {one["source"] for one in values.values()} <= {"given", "measured", "maker", "estimated"}
    assert set(values) == set(LAUNCH.quantities)


def test_error_of_the_sums_and_accuracy_of_the_prediction_stand_apart(made):
    assert "<h2>Numerical error</h2>" in made.html
    assert "<h2>Accuracy of the prediction</h2>" in made.html
    assert "at half the step" in made.html
    assert "100 plausible cases" in made.html
    assert "% of cases" in made.html
    assert "Which input, if wrong, changes the answer most?" in made.html


def test_the_full_form_says_how_each_estimate_is_measured(full):
    assert "how to measure it" in full.html
    estimated = [path for path, one in LAUNCH.quantities.items() if one.source == "estimated"]
    assert all(key_words(path) in full.html for path in estimated)


def test_the_full_form_has_its_sections_in_the_order_of_class_rules(full):
    headings = re.findall(r"<h2>\d+ (.*?)</h2>", full.html)
    assert headings[0] == "Judgement"
    wanted = ["Installation", "Operating conditions", "Mass-elastic system", "Method, excitation and damping",
              "Natural frequencies and modes", "Orders and critical speeds", "Running with all cylinders",
              "Running with a cylinder dead", "Accuracy of the prediction", "Neutral and quiet idle", "Speeds to avoid",
              "What to measure", "Numerical error", "Inputs", "Formulas and symbols"]  # fmt: skip
    assert [one for one in headings if one in wanted] == wanted


def test_the_linear_view_has_a_holzer_table_a_mode_and_says_where_it_misleads(full):
    assert full.html.count("Holzer's table of".replace("'", "&#39;")) == 4
    assert full.html.count("nothing is left, as it must be") == 4
    assert "Here the linear answer misleads:" in full.html
    assert "enters its free play" in full.html
    assert "together, half range" in full.html


def test_formulas_stand_with_document_and_whether_their_text_was_read(full):
    for words in ("IACS UR M68", "DIN 740-2", "from memory", "closed form", "value seen in print"):
        assert words in full.html


def test_letters_ask_each_maker_for_what_matters_and_is_missing(made, tmp_path):
    asked = {one.to: one for one in made.letters.letters}
    gearbox = asked["the maker of the gearbox"]
    assert "gearbox: input drag" in [what for what, _, _ in gearbox.values]
    assert any(text.startswith("gearbox vibratory torque") for text in gearbox.limits)
    assert "propeller: water inertia" in [what for what, _, _ in asked["the maker of the propeller"].values]
    given = {key_words(path) for path, one in LAUNCH.quantities.items() if one.source != "estimated"}
    assert not given & {what for one in asked.values() for what, _, _ in one.values}
    text = made.write_letters(tmp_path / "letter.txt").read_text()
    assert text.count("Dear Sir or Madam") == len(asked)
    assert max(map(len, text.splitlines())) <= 80
    for words in ("would be\ngrateful for yours", "ours is too high or too\nlow, already helps"):
        assert words in text  # whole lines, not the rest of one on a line of its own
    page = Page(made.write_letters(tmp_path / "letter.html").read_text())
    assert not page.open
    assert page.seen.count("article") == len(asked)


def test_a_plate_s_torque_is_called_stated_only_where_its_maker_stated_it():
    stated = {"value": "200 N*m", "source": "maker"}
    for line, words in (
        (LAUNCH.replace({"plate.rated_torque": stated}), "stated torque 200 N m"),
        (LAUNCH.replace({"plate.rated_torque": "unknown"}), "estimated torque "),
    ):
        assert words in dict(part_rows(line))["plate or coupling"]


def test_a_letter_does_not_ask_for_a_limit_that_was_entered():
    limit = {"value": "40 N*m", "document": "manual of the box"}
    line = cs.line_from_document({**LAUNCH.document, "limits": {"gearbox_vibratory_torque": limit}})
    asked = {one.to: one for one in cs.report(line).letters.letters}["the maker of the gearbox"]
    assert not any(text.startswith("gearbox vibratory torque") for text in asked.limits)


def test_a_hostile_title_is_escaped_in_letters_too():
    line = cs.line_from_document({**LAUNCH.document, "title": HOSTILE})
    made = cs.report(line)
    assert "<script>" not in made.html + made.letters.html()


def test_a_line_that_ends_at_the_gearbox_is_reported_in_neutral():
    document = {key: part for key, part in LAUNCH.document.items() if key not in ("shaft", "propeller")}
    made = cs.report(cs.line_from_document(document))
    assert {one["gear"] for one in made.result["verdicts"]} == {"neutral", "any"}


def test_the_command_writes_page_and_data(tmp_path):
    arguments = ["report", "harbour-launch", "--out", str(tmp_path / "r.html")]
    assert CliRunner().invoke(app, arguments).exit_code == 1
    assert json.loads((tmp_path / "r.json").read_text())["title"] == LAUNCH.title
    assert (tmp_path / "r.html").read_text().startswith("<!DOCTYPE html>")


def test_a_page_of_another_kind_is_refused_and_nothing_written(tmp_path):
    result = CliRunner().invoke(app, ["report", "harbour-launch", "--out", str(tmp_path / "r.pdf")])
    assert result.exit_code == 2
    assert "must end in .html" in result.stderr
    assert CliRunner().invoke(app, ["report", "harbour-launch"]).exit_code == 2
    assert CliRunner().invoke(app, ["report", "harbour-launch", "--letter", str(tmp_path / "l.doc")]).exit_code == 2
    assert not list(tmp_path.iterdir())


def test_a_folder_that_takes_no_file_is_told_by_the_name_of_the_page(tmp_path, monkeypatch):
    def full(*_, **__):
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC), str(tmp_path / ".page-x1y2"))

    monkeypatch.setattr(tempfile, "TemporaryDirectory", full)
    with pytest.raises(OSError, match="No space left") as caught:
        write_text("page", tmp_path / "page.html")
    assert caught.value.filename == str(tmp_path / "page.html")
    assert not list(tmp_path.iterdir())
