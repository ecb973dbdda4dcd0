"""Speeds to avoid, the card for the helm, and the command that tells both."""

import json
import re
import shutil
import subprocess

import numpy as np
import pytest
from typer.testing import CliRunner

import calmshaft as cs
from calmshaft.app import app

LAUNCH = cs.sample_line("harbour-launch")
B = LAUNCH.with_plate("plate-b")


@pytest.fixture(scope="module")
def avoid():
    return cs.speeds_to_avoid(B)


def test_healthy_there_is_nothing_to_avoid_and_with_a_dead_cylinder_there_is(avoid):
    assert [one.cylinders for one in avoid] == ["one dead", "one dead"]
    slow, fast = avoid
    assert slow.reasons == ("the gear teeth part",)
    assert "cannot hold" in fast.words


def test_the_ends_are_calm_and_the_inside_is_not(avoid):
    # second way: single runs inside and at the upper end
    slow = avoid[0]
    share = [cs.steady(B, cs.Condition(rpm, misfiring=[2])).measures["mesh_separated_share"]
             for rpm in (slow.low, slow.high)]  # fmt: skip
    assert share[0] > 0.001
    assert share[1] <= 0.001


def test_from_where_the_engine_cannot_hold_it_a_run_is_overfuelled(avoid):
    fast = avoid[1]
    assert not cs.steady(B, cs.Condition(fast.low, misfiring=[1])).overfuelled
    assert cs.steady(B, cs.Condition(fast.low + 50, misfiring=[1])).overfuelled


def test_an_entered_limit_makes_speeds_to_avoid():
    limits = {"plate_twist": {"value": "9 deg", "document": "sheet, invented"}}
    line = cs.line_from_document({**LAUNCH.document, "limits": limits}).with_plate("plate-b")
    found = cs.speeds_to_avoid(line, misfiring=["none"], step=100)
    assert found[-1].reasons == ("plate twist over its limit",)
    assert found[-1].high == pytest.approx(2600)
    twist = cs.steady(line, cs.Condition(found[-1].low)).measures["plate_twist_max"]
    assert np.degrees(twist) < 9


def test_an_engine_that_stops_leaves_a_range_without_result():
    found = cs.speeds_to_avoid(B, misfiring=["1+2+3"], step=500, load="400 N*m")
    reasons = {reason for one in found for reason in one.reasons}
    assert reasons & {
        "no valid result",
        "more fuel than at rated torque would be needed, so the engine cannot hold them",
    }


@pytest.mark.parametrize(("asked", "words"), [({"step": 0}, "between 1 and 500"), ({"misfiring": ["7"]}, "1 to 4")])
def test_what_cannot_be_asked_is_refused(asked, words):
    with pytest.raises(cs.LineError, match=words):
        cs.speeds_to_avoid(B, **asked)


@pytest.fixture(scope="module")
def card(avoid):
    line = cs.line_from_document({**B.document, "title": '<script>alert("x")</script> & Co'})
    return cs.helm_card(line, avoid, cs.quiet_idle(B))


def test_the_card_says_calculated_speeds_idle_what_to_do_and_cautions(card):
    for words in ("Calculated, not measured", "Speeds to avoid ahead", "2,600 rpm", "Lowest quiet idle",
                  "not a remedy", "If a cylinder misfires", "Caution", "approves nothing",
                  "own instructions come first"):  # fmt: skip
        assert words in card
    assert not re.search(r"\b(pass|approved|safe|permitted)\b", card)


def test_hostile_text_stands_on_the_card_as_text(card):
    assert "<script" not in card
    assert "&lt;script&gt;" in card
    assert "http" not in card


@pytest.mark.skipif(shutil.which("chromium") is None, reason="needs chromium")
def test_the_card_is_one_page(card, tmp_path):
    page, printed = tmp_path / "card.html", tmp_path / "card.pdf"
    page.write_text(card)
    subprocess.run(
        ["chromium", "--headless", "--no-sandbox", f"--print-to-pdf={printed}", "--no-pdf-header-footer", str(page)],
        check=True, capture_output=True, timeout=60,
    )  # fmt: skip
    assert len(re.findall(rb"/Type\s*/Page[^s]", printed.read_bytes())) == 1


def called(*arguments, code):
    result = CliRunner().invoke(app, ["misfiring", *map(str, arguments)])
    assert result.exit_code == code, result.output
    return result


def test_the_command_tells_the_ladder_the_speeds_and_the_idle(tmp_path):
    out = called("harbour-launch", "--out", tmp_path, "--card", tmp_path / "card.html", code=1).stdout
    for words in ("any one", "With governed fuelling the worst is", "Speeds to avoid ahead", "Calculated, not measured",
                  "one dead: ", "Lowest quiet idle", "not a remedy", "licensed practice"):  # fmt: skip
        assert words in out
    assert (tmp_path / "harbour-launch-800rpm-ahead-misfiring.png").read_bytes().startswith(b"\x89PNG")
    assert "Card for the helm" in (tmp_path / "card.html").read_text()


def test_with_json_every_rung_has_its_status_and_numbers():
    found = json.loads(called("harbour-launch", "--rpm", "900", "--json", code=1).stdout)
    assert len(found["ladder"]) == 2 * 4 * 5
    assert {"status", "mesh_torque_vibratory", "mean_rpm", "misfiring"} <= set(found["ladder"][0])
    assert found["quiet_idle"][0]["rpm"] is None
    assert found["words"]


def test_in_neutral_there_are_no_speeds_to_avoid_ahead():
    out = called("harbour-launch", "--gear", "neutral", code=0).stdout
    assert "Speeds to avoid" not in out
    assert "plate, peak to peak" in out


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (["--card", "card.pdf"], "must end in .html"),
        (["--gear", "ahaed"], "did you mean"),
        (["--rpm", "fast"], "is not a speed"),
    ],
)
def test_bad_options_end_in_their_message_and_write_nothing(tmp_path, options, words):
    assert words in called("harbour-launch", "--out", tmp_path / "study", *options, code=2).stderr
    assert not (tmp_path / "study").exists()
