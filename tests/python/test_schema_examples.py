"""The examples that messages and the list of keys give: each suits its key."""

import re

import pytest

import calmshaft as cs
from calmshaft import units
from calmshaft.commands.schema import _keys
from calmshaft.schema import LineFile
from calmshaft.schema_examples import EXAMPLES, example_at
from calmshaft.schema_paths import kind_at

LAUNCH = cs.sample_line("harbour-launch")
KEYS = [one["key"] for one in _keys(LineFile) if kind_at(one["key"].replace("[]", "[0]"))]


def kind_of(key):
    return kind_at(key.replace("[]", "[0]"))


def test_every_example_belongs_to_a_key_and_is_a_value_of_its_kind():
    for name, text in EXAMPLES.items():
        keys = [key for key in KEYS if key == name or key.rpartition(".")[2] == name]
        assert keys, name
        for key in keys:
            units.parse(text, kind_of(key))


def test_examples_are_of_the_size_of_the_values_in_the_shipped_lines():
    """A factor of five either way holds all of them, or one of a list: an example is a size, no value."""
    off = {}
    for name in cs.sample_lines():
        fits = {}  # key -> whether the example is of the size of each row's value
        for path, quantity in cs.sample_line(name).quantities.items():
            kind = kind_at(path)
            example = units.parse(example_at(path, kind), kind) if kind and kind not in ("pure", "share") else 0.0
            key = re.sub(r"\[\d+\]", "[]", path)
            if key in EXAMPLES and example:
                fits.setdefault(key, []).append(0.2 < abs(example / quantity.value) < 5)
        off |= {(name, key): rows for key, rows in fits.items() if not any(rows)}
    assert off == {}


@pytest.mark.parametrize(
    ("path", "value", "example"),
    [
        ("shaft.ultimate_strength", "600", "600 MPa"),
        ("limits.shaft_vibratory_stress", {"value": "40 kg", "document": "sheet"}, "40 MPa"),
        ("limits.cyclic_irregularity", {"document": "sheet"}, "0.03"),
        ("flywheel.hang.wire_length", "2 kg", "2 m"),
        ("plate.joint.tightening_torque", "25 N", "25 N\\*m"),
        ("engine.bore", "92 kg", "92 mm"),
    ],
)
def test_an_error_gives_an_example_for_its_own_key(path, value, example):
    with pytest.raises(cs.LineError, match=rf'{path} is .*"{example}"'):
        LAUNCH.replace({path: value})


def test_an_axis_of_a_sweep_gives_the_example_of_its_key():
    line = LAUNCH.replace({"shaft.ultimate_strength": "600 MPa"})
    with pytest.raises(cs.LineError, match='"600 MPa"'):
        cs.sweep(line, {"shaft.ultimate_strength": ["500 kg"]}, cs.Condition(800))
