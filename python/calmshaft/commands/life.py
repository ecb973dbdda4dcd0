"""`life`: how long a plate lasts beside a reference over the duty diary."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from calmshaft import Line, load_plate
from calmshaft.commands.common import CAUTION, Exit, all_of, line_named, say, say_json
from calmshaft.condition import Condition
from calmshaft.duty.life import PlateLife, plate_life
from calmshaft.duty.life_words import condition_rows, plain, sentences
from calmshaft.line import LINES, sample_plates
from calmshaft.page_text import text_table


def run_life(name: str, reference: str | None, misfiring: str | None, jobs: int, as_json: bool) -> Exit:
    """Print the diary with what each condition takes, and the lives. Raises LineError with every fault."""
    line, other, _ = all_of(
        lambda: line_named(name), lambda: reference_named(reference), lambda: Condition(1.0, misfiring=misfiring or "")
    )
    found = plate_life(line, other, misfiring=misfiring, threads=jobs)
    say_json({"title": line.title, **plain(found), "caution": CAUTION}) if as_json else _say(line, found)
    if found.own.lost or found.reference.lost:
        return Exit.NUMERICAL
    return Exit.WITHIN if found.used else Exit.NOT_JUDGED  # works are compared, but springs are what breaks


def reference_named(name: str | None) -> Line | dict[str, Any] | None:
    """A line, or the plate of a plate file, by file or shipped name; None for none. Raises LineError."""
    if name is None:
        return None
    if name in sample_plates() and not Path(name).exists():
        return load_plate(LINES / f"{name}.toml")
    if Path(name).exists():
        from calmshaft.line_file import read

        if "engine" not in read(name)[0]:
            return load_plate(name)
    return line_named(name)


def _say(line: Line, found: PlateLife) -> None:
    say(f"{line.title}\n")
    say(text_table(condition_rows(found)))
    said = "; of the springs: share in what uses up the weakest of them" if found.used else ""
    say(f"\n  friction: in the plate{said}\n")
    for sentence in sentences(found):
        say(f"  {sentence}.")
    say(f"\n{CAUTION}")
