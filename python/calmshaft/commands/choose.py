"""`choose`: what to look for in a plate for a line, before one is bought."""

from __future__ import annotations

from pathlib import Path

from calmshaft import Line
from calmshaft.choosing import Choice, choose
from calmshaft.choosing.words import (
    HINTS,
    class_words,
    fit_rows,
    fit_words,
    limit_words,
    own_words,
    sure_words,
    window_rows,
)
from calmshaft.commands.common import CAUTION, Exit, say, say_json, show_progress, tell
from calmshaft.output import write_figure, write_text
from calmshaft.page_text import text_table
from calmshaft.places import name_of


def run_choose(line: Line, out: Path | None, jobs: int, as_json: bool) -> Exit:
    """Print what to look for; write the page and the picture where asked. Raises LineError."""
    found = choose(line, threads=jobs, progress=tell if show_progress() else None)
    if as_json:
        say_json({**found.as_dict(), "caution": CAUTION})
    else:
        say_choice(found)
        say(f"\n{CAUTION}")
    if out and found.window:
        tell(f"written: {', '.join(map(str, _write(found, out)))}")
    elif out:
        tell("nothing written: there is no window to show")
    return exit_of(found)


def exit_of(found: Choice) -> Exit:
    """Over where no plate meets the limits, or where something entered does not fit."""
    if found.window is None or any(one.word == "over" for one in found.fit):
        return Exit.OVER
    return Exit.NOT_JUDGED if found.aims.left_out else Exit.WITHIN


def _write(found: Choice, out: Path) -> list[Path]:
    from calmshaft import plots
    from calmshaft.reports.shopping import shopping_list

    picture = plots.plate_window(found)
    return [
        write_text(shopping_list(found), out / f"{name_of(found.line.name, 'plate')}.html"),
        write_figure(picture, out / f"{name_of(found.line.name, 'plate', 'window')}.png"),
    ]


def say_choice(found: Choice) -> None:
    """Limits worked to, the window, how sure it is, what it means in the shop, the fit list."""
    say(f"{found.line.title}: what to look for in a plate\n")
    say("Worked to:")
    for words in limit_words(found):
        _say_item(words)
    say()
    if found.window:
        say(text_table(window_rows(found)))
        say()
        for words in (*class_words(found), own_words(found), sure_words(found)):
            say(words)
    elif found.unmet:
        say("No plate that was looked at gives ranges that meet all of this:")
        for words in found.unmet.reasons:
            _say_item(words)
        say("\nWhat would help:")
        for words in found.unmet.helps:
            _say_item(words)
    say(f"\n{fit_words(found)}")
    say(text_table(fit_rows(found)))
    say()
    for words in HINTS if found.window else ():
        say(words)


def _say_item(words: str) -> None:
    say(f"  - {words}")
