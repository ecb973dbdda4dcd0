"""Tables and lines that fit the screen, with nothing lost."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from typer.testing import CliRunner

from calmshaft.app import app
from calmshaft.page_text import folded, paragraph, screen_width, text_table

ROWS = [
    ["key", "plausible cases", "what it is"],
    ["plate.stop_stiffness", "28.5 to 37 N m, 100 % over", "share of time with the loaded mesh out of contact"],
    ["teeth", "12", "apart"],
]
word = st.text("abcxyz0123/", min_size=1, max_size=10)
cell = st.lists(word | st.just("%"), max_size=8).map(" ".join)


def words_of(rows):
    return sorted(word for row in rows for cell in row for word in cell.split())


@given(st.lists(st.tuples(cell, cell, cell), min_size=2, max_size=5), st.integers(45, 120))
def test_a_table_keeps_every_word_and_its_width(rows, width):
    lines = text_table([list(row) for row in rows], width=width).split("\n")
    assert max(map(len, lines)) <= width
    shown = [line for line in lines if not re.fullmatch(r"[ -]*-[ -]*", line)]
    assert words_of([shown]) == sorted(one for one in words_of(rows) if not re.fullmatch("-+", one))


def test_a_table_is_as_wide_as_it_needs_and_no_wider():
    lines = text_table(ROWS, width=200).split("\n")
    assert len(lines) == 4
    assert lines[2].split("  ")[1:] == ROWS[1]


def test_numbers_stay_with_their_units_and_long_keys_break_behind_a_point():
    text = text_table(ROWS, width=36)
    assert "37 N m," in text
    assert "100 %" in text
    assert [line.split()[0] for line in text.split("\n") if line[2:3].isalpha()][1:3] == ["plate.stop_", "stiffness"]


def test_a_row_of_one_cell_heads_those_below_it():
    lines = text_table([["what", "number"], ["ahead, all cylinders firing"], ["teeth", "12"]], width=80).split("\n")
    assert lines[2:] == ["", "  ahead, all cylinders firing", "  teeth      12"]


def test_lines_break_between_words_and_go_on_below_their_text():
    assert folded("  over        teeth apart and thrown onto the coast flanks", 40).split("\n") == [
        "  over        teeth apart and thrown",
        "              onto the coast flanks",
    ]
    assert folded("  a sentence that stands in", 20).split("\n") == ["  a sentence that", "    stands in"]
    assert folded("plain words at 12 N m here", 18).split("\n") == ["plain words at", "12 N m here"]


def test_the_screen_counts_from_eighty_columns_on(monkeypatch):
    for columns, width in (("40", 80), ("132", 132)):
        monkeypatch.setenv("COLUMNS", columns)
        assert screen_width() == width


def test_a_paragraph_is_one_line():
    assert paragraph("\n one\n two ") == "one two"


@pytest.mark.parametrize(
    "command",
    [
        "run harbour-launch",
        "check harbour-launch",
        "compare harbour-launch --plate plate-b --change plate.stages[0].stiffness=20_N*m/deg --rpm 800,1200",
        "misfiring harbour-launch",
        "life harbour-launch --reference plate-d",
        "plate plate-d",
        "schema",
        "worksheet",
        "cautions",
    ],
)
def test_on_eighty_columns_no_line_of_a_command_is_wider(command, monkeypatch):
    monkeypatch.setenv("COLUMNS", "80")
    words = [one.replace("_N", " N") for one in command.split()]
    result = CliRunner().invoke(app, words)
    assert result.exit_code in (0, 1, 5), result.output
    assert [line for line in result.stdout.split("\n") if len(line) > 80] == []
