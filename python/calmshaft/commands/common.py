"""What all commands share: exit codes, messages, options, loading a line."""

from __future__ import annotations

import json
import math
import os
import sys
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from enum import IntEnum
from functools import partial
from pathlib import Path
from typing import Any

import typer

from calmshaft import Condition, Line, LineError, Verdict, _core, load_line, sample_line, sample_lines
from calmshaft.errors import all_of as all_of
from calmshaft.faults import line_error
from calmshaft.judgement import Judgement
from calmshaft.judgement.cautions import CAUTION as CAUTION
from calmshaft.output import json_ready
from calmshaft.page_text import folded
from calmshaft.runs import cylinders, usual_gear
from calmshaft.sweep_runs import SweepInterrupted


class Exit(IntEnum):
    """Exit codes; the lowest place in PRECEDENCE wins."""

    WITHIN = 0
    OVER = 1
    INPUT = 2
    NUMERICAL = 3
    PARTIAL = 4
    NOT_JUDGED = 5
    INTERRUPTED = 130


def say(text: str = "") -> None:
    """A line of the result, on standard output, broken where it is wider than the screen."""
    typer.echo(folded(text))


def tell(text: str) -> None:
    """A line of progress or warning, on standard error."""
    typer.echo(text, err=True)


@contextmanager
def plain_errors() -> Iterator[None]:
    """Bad input ends in its message and exit code 2, an unwritable file likewise, Ctrl-C in 130."""
    try:
        yield
    except LineError as error:
        tell(str(error))
        raise typer.Exit(Exit.INPUT) from None
    except BrokenPipeError:  # the reader has seen enough, as `| head` does
        sys.stdout = open(os.devnull, "w")  # noqa: SIM115 - Python flushes it once more at its end
        raise typer.Exit(Exit.WITHIN) from None
    except OSError as error:
        reason = error.strerror or str(error)
        tell(f"{error.filename or 'the output'} cannot be written: {reason[:1].lower()}{reason[1:]}")
        raise typer.Exit(Exit.INPUT) from None
    except (KeyboardInterrupt, SweepInterrupted, typer.Abort):
        tell("interrupted; nothing was written")
        raise typer.Exit(Exit.INTERRUPTED) from None


def line_named(name: str) -> Line:
    """A line file, or one of the shipped lines by its name; its warnings go to standard error."""
    line = sample_line(name) if name in sample_lines() and not Path(name).exists() else load_line(name)
    for warning in line.warnings:
        tell(f"note: {line.explain(warning)}")
    return line


def idle_rpm(line: Line) -> float:
    """The line's idle speed [rpm]."""
    return rpm_of(line, "engine.idle_rpm")


def rpm_of(line: Line, key: str) -> float:
    """A speed of the line [rpm]."""
    return line.quantities[key].value * 30.0 / math.pi


def line_and_condition(name: str, **options: Any) -> tuple[Line, Condition]:
    """The line, and the condition that the options ask for: fields of Condition, None where not given.

    Idle where no speed is given; ahead, or neutral where the line ends at the gearbox, where no gear is. Raises
    LineError with the faults of the file and of all options at once.
    """
    given = {key: value for key, value in options.items() if value is not None}
    alone = (partial(Condition, **{"rpm": 1.0, key: value}) for key, value in given.items())
    line = all_of(partial(line_named, name), *alone)[0]
    at = Condition(**{"rpm": round(idle_rpm(line), 3), "gear": usual_gear(line), **given})
    all_of(partial(at.strengths, cylinders(line)), partial(_refuse_unfit, line, at.with_(misfiring="none")))
    return line, at


def _refuse_unfit(line: Line, at: Condition) -> None:
    faults = [fault for fault in _core.check(line.core, at.core(cylinders(line))) if not fault.warning]
    if faults:
        raise line_error(faults)


def exit_for(judgements: Iterable[Judgement | Verdict], status: str = "periodic") -> Exit:
    """The exit code of everything judged, of one run with its status."""
    if status in ("stalled", "failed"):
        return Exit.NUMERICAL
    judged = list(judgements)
    if any(one.word == "over" for one in judged):
        return Exit.OVER
    return Exit.NOT_JUDGED if any(one.word == "not judged" and one.matters for one in judged) else Exit.WITHIN


def say_json(document: Any) -> None:
    """One JSON document on standard output; what is not a number is null."""
    typer.echo(json.dumps(json_ready(document), indent=2, allow_nan=False))


def show_progress() -> bool:
    """Progress bars only where somebody watches."""
    return sys.stderr.isatty()
