"""The arrows between the C++ rooms. The rule is the project's own (DEVELOPERS.md, "Rooms and arrows")."""

import re
from pathlib import Path

from tree import ROOT, public_headers

LINE = {"core", "line"}
MODEL = LINE | {"engine"}
ALLOWED = {
    "core": set(),
    "line": {"core"},
    "engine": LINE,
    "model": MODEL,
    "solve": {"core"},
    "signal": {"core"},
    "measure": {"core", "signal"},
    "simulate": MODEL | {"model", "solve", "signal", "measure"},
    "sweep": MODEL | {"model", "solve", "signal", "measure", "simulate"},
}
INCLUDE = re.compile(r'^\s*#\s*include\s+["<]calmshaft/(\w+)/', re.MULTILINE)


def sources() -> list[Path]:
    return public_headers() + sorted((ROOT / "cpp/src").glob("*/*.[ch]pp"))


def wrong_arrows(room: str, text: str) -> set[str]:
    """Rooms that a file of `room` includes and may not."""
    return set(INCLUDE.findall(text)) - ALLOWED[room] - {room}


def test_every_room_is_a_known_one():
    assert {path.parent.name for path in sources()} <= set(ALLOWED)


def test_rooms_include_only_the_rooms_they_may():
    wrong = {str(path.relative_to(ROOT)): wrong_arrows(path.parent.name, path.read_text()) for path in sources()}
    assert {name: rooms for name, rooms in wrong.items() if rooms} == {}


def test_an_arrow_that_goes_back_is_noticed():
    assert wrong_arrows("solve", '#include "calmshaft/model/model.hpp"\n') == {"model"}
    assert wrong_arrows("model", '#include "calmshaft/solve/modes.hpp"\n') == {"solve"}
    assert wrong_arrows("model", '#include "calmshaft/line/line.hpp"\n') == set()


def test_no_public_header_asks_its_user_for_boost():
    assert [str(path) for path in public_headers() if re.search(r"include\s*[<\"]boost/", path.read_text())] == []
