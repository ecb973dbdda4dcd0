"""What the public functions are called with: a wrong type is told as every other fault, before any work."""

from __future__ import annotations

import functools
import inspect
from collections.abc import Callable, Iterable, Mapping
from importlib import import_module
from numbers import Integral, Real
from pathlib import Path
from typing import Any, NamedTuple, TypeVar

from calmshaft._core import Fault, LineError

Called = TypeVar("Called", bound=Callable[..., Any])
SHOWN = 60  # letters of a value in a message


class Wanted(NamedTuple):
    """What a type in a signature asks for: the words, what to write, and whether a value is that."""

    words: str
    advice: str
    fits: Callable[[Any], bool]


def _ours(name: str, example: str, module: str = "") -> Wanted:
    def fits(value: Any) -> bool:
        return isinstance(value, getattr(import_module(f"calmshaft{module}"), name))

    return Wanted(f"a {name}", f"write for instance {example}", fits)


def _is(*types: type) -> Callable[[Any], bool]:
    return lambda value: isinstance(value, types)


def _row(words: str, advice: str) -> Wanted:
    return Wanted(words, advice, lambda value: isinstance(value, Iterable) and not isinstance(value, str | Mapping))


# By the words of the signatures; a parameter with a type that is not here is left to its function.
WANTED = {
    "Line": _ours("Line", 'cs.load_line("mine.toml")'),
    "Condition": _ours("Condition", "cs.Condition(rpm=800)"),
    "Run": _ours("Run", "cs.steady(line, cs.Condition(rpm=800))"),
    "Chain": _ours("Chain", "cs.chain([0.5, 0.1], [1e4])"),
    "Modes": _ours("Modes", "cs.modes(line)"),
    "Comparison": _ours("Comparison", 'cs.compare({"plate A": line, "plate B": other})'),
    "Choice": _ours("Choice", "cs.choose(line)"),
    "Uncertainty": _ours("Uncertainty", "cs.uncertainty(line, cs.Condition(rpm=800))"),
    "Tornado": _ours("Tornado", "cs.tornado(line, cs.Condition(rpm=800))"),
    "Together": _ours("Together", 'cs.zipped({"rpm": [800, 1200]})', ".together"),
    "Mapping[str, Line]": Wanted("names with a Line each", 'write {"plate A": line, "plate B": other}', _is(Mapping)),
    "Mapping[str, Run]": Wanted("names with a Run each", 'write {"plate A": run, "plate B": other}', _is(Mapping)),
    "Mapping[str, Any]": Wanted("names with values", 'write {"name": value}', _is(Mapping)),
    "xr.Dataset": Wanted(
        "a Dataset", "write what cs.sweep or its like gave", lambda value: type(value).__name__ == "Dataset"
    ),
    "Axes": Wanted("axes to draw on", "write ax=axes of matplotlib", lambda value: hasattr(value, "plot")),
    "Sequence[float]": _row("a list of numbers", "write it in brackets, such as [1, 2]"),
    "Sequence[str]": _row("a list of texts", 'write it in brackets, such as ["ahead", "neutral"]'),
    "Sequence[Misfiring]": _row("a list of faults", 'write it in brackets, such as ["none", "3"]'),
    "Sequence[SpeedsToAvoid]": _row("a list of speeds to avoid", "write cs.speeds_to_avoid(line)"),
    "Sequence[QuietIdle]": _row("a list of idle speeds", "write cs.quiet_idle(line)"),
    "str": Wanted("a text", "write it in quotes", _is(str)),
    "Path": Wanted("a path", "write pathlib.Path(name)", _is(Path)),
    "int": Wanted("a whole number", "write it without point and quotes", _is(Integral)),
    "float": Wanted("a number", "write it without quotes", _is(Real)),
    "None": Wanted("None", "", lambda value: value is None),
}
# Of names with values each, what stands under a name.
_INSIDE = {"Mapping[str, Line]": "Line", "Mapping[str, Run]": "Run"}


def checked(function: Called) -> Called:
    """The function, which raises LineError with every argument that is of a wrong type before it begins."""
    signature = inspect.signature(function)
    asked = {name: str(one.annotation).split(" | ") for name, one in signature.parameters.items()}
    asked = {name: types for name, types in asked.items() if all(one in WANTED for one in types)}

    @functools.wraps(function)
    def call(*args: Any, **options: Any) -> Any:
        try:
            given = signature.bind_partial(*args, **options).arguments
        except TypeError:  # an option that is none: Python's own words name it
            given = {}
        faults = [fault for name in given if name in asked for fault in _faults(name, given[name], asked[name])]
        if faults:
            raise _error(function.__name__, faults)
        return function(*args, **options)

    return call  # type: ignore[return-value]


def public(name: str, found: Any, package: str = "calmshaft") -> Any:
    """What a package hands out under a name: a function checked, under that name for pickles; the rest as it is."""
    if not inspect.isfunction(found):
        return found
    handed_out = checked(found)
    handed_out.__module__, handed_out.__qualname__ = package, name
    return handed_out


def _error(called: str, faults: list[Fault]) -> LineError:
    error = LineError("\n".join(f"{called}: {one.path} is {one.value}: {one.rule}; {one.advice}" for one in faults))
    error.faults = tuple(faults)  # type: ignore[misc]
    return error


def _faults(name: str, value: Any, types: list[str]) -> list[Fault]:
    fitting = [one for one in types if WANTED[one].fits(value)]
    if not fitting:
        words = " or ".join(WANTED[one].words for one in types if one != "None")
        return [Fault(name, _shown(value), f"must be {words}", WANTED[types[0]].advice)]
    if fitting[0] not in _INSIDE:
        return []
    inside = [_INSIDE[fitting[0]]]
    return [fault for key, one in value.items() for fault in _faults(f"{name}[{key!r}]", one, inside)]


def _shown(value: Any) -> str:
    """The value where it is short, else its type."""
    plain = value is None or isinstance(value, str | Real | list | tuple | dict)
    text = repr(value) if plain else ""
    return text if 0 < len(text) <= SHOWN else f"of type {type(value).__name__}"
