"""What all commands share: exit codes, messages, options, loading a line."""

from __future__ import annotations

import json
import math
import sys
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from enum import IntEnum
from pathlib import Path
from typing import Any

import numpy as np
import typer

from calmshaft import Condition, Line, LineError, load_line, sample_line, sample_lines
from calmshaft.judgement import Judgement
from calmshaft.sweeps import SweepInterrupted

CAUTION = (
    "A study aid, not an approval: the makers, the class society and licensed practice decide. "
    "Never open guards or change speed limits on its word alone."
)


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
    """A line of the result, on standard output."""
    typer.echo(text)


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
    except OSError as error:
        tell(f"{error.filename or 'the output'} cannot be written: {(error.strerror or str(error)).lower()}")
        raise typer.Exit(Exit.INPUT) from None
    except (KeyboardInterrupt, SweepInterrupted):
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


def condition_of(line: Line, rpm: float | None, gear: str, misfiring: str, load: str, fuelling: str) -> Condition:
    """The condition that the options ask for; idle where no speed is given."""
    return Condition(rpm or round(idle_rpm(line), 3), gear, misfiring, load, fuelling)


def exit_for(judgements: Iterable[Judgement], status: str) -> Exit:
    """The exit code of one judged run."""
    if status in ("stalled", "failed"):
        return Exit.NUMERICAL
    judged = list(judgements)
    if any(one.word == "over" for one in judged):
        return Exit.OVER
    return Exit.NOT_JUDGED if any(one.word == "not judged" and one.matters for one in judged) else Exit.WITHIN


def say_json(document: Any) -> None:
    """One JSON document on standard output; what is not a number is null."""
    say(json.dumps(_plain(document), indent=2, allow_nan=False))


def _plain(value: Any) -> Any:
    if isinstance(value, dict):
        return {str(key): _plain(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(inner) for inner in value]
    if isinstance(value, np.ndarray):
        return _plain(value.tolist())
    if isinstance(value, complex):
        return {"real": _plain(value.real), "imaginary": _plain(value.imag)}
    if isinstance(value, np.generic):
        return _plain(value.item())
    if isinstance(value, float) and not math.isfinite(value):
        return None
    return value


def show_progress() -> bool:
    """Progress bars only where somebody watches."""
    return sys.stderr.isatty()
