"""Faults of a description: from the file's keys and types to words a builder can act on."""

from __future__ import annotations

import copy
import json
import re
from collections.abc import Callable, Iterable
from typing import Any, get_args

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from calmshaft import _core
from calmshaft.schema import LineFile, Section
from calmshaft.schema_examples import fitting
from calmshaft.schema_fields import Physical
from calmshaft.schema_paths import Steps, field_at, join, remove, split

Fault = _core.Fault
_NOT_YET = {
    "limits.plate_temperature": "no temperature is worked out; give the heat that its maker allows as plate_heat",
}
_TYPES = {
    "int_type": ("a whole number is needed", "write it without point and quotes, for instance 4"),
    "int_from_float": ("a whole number is needed", "write it without a fraction"),
    "string_type": ("a text is needed", "put it in quotes"),
    "bool_type": ("true or false is needed", "write it without quotes"),
    "list_type": ("a list is needed", "write [...], or a [[...]] table for each item"),
    "model_type": ("a section is needed", "write its keys below a line with its name in brackets"),
    "greater_than_equal": ("is too small", "write at least 1"),
    "less_than_equal": ("is too large", "write at most 24"),
}


def said(fault: Fault, where: str = "") -> str:
    """One fault on one line: "launch.toml:14: engine.bore is "92 kg": a length is needed; write ..."."""
    subject = f"{fault.path} is {fault.value}:" if fault.value else fault.path
    kind = "warning: " if fault.warning else ""
    return f"{where}{kind}{subject} {fault.rule}" + (f"; {fault.advice}" if fault.advice else "")


def line_error(faults: Iterable[Fault], where: Callable[[str], str] = lambda path: "") -> _core.LineError:
    """A LineError with all faults, each once and on a line of its own; `where` gives "file:line: " for a path."""
    listed = tuple({said(fault): fault for fault in faults}.values())
    error = _core.LineError("\n".join(said(fault, where(fault.path)) for fault in listed))
    error.faults = listed
    return error


def without_unknown(value: Any) -> Any:
    """A copy without the keys whose value is "unknown": those count as left out."""
    if isinstance(value, dict):
        kept = {key: without_unknown(item) for key, item in value.items() if not _is_unknown(item)}
        return kept
    return [without_unknown(item) for item in value] if isinstance(value, list) else value


def _is_unknown(value: Any) -> bool:
    word = value.get("value") if isinstance(value, dict) else value
    return isinstance(word, str) and word.strip().lower() == "unknown"


def validated(document: dict[str, Any], model: type[Section] = LineFile) -> tuple[Any, list[Fault]]:
    """What is well written in a document, and the faults of the rest."""
    clean = without_unknown(document)
    try:
        return model.model_validate(clean), []
    except ValidationError as error:
        found = error.errors(include_url=False)
    rest = copy.deepcopy(clean)
    for detail in found:
        remove(rest, join(_whole(detail["loc"], model)))
    return model.model_validate(rest), [_fault(detail, model) for detail in found]


def _whole(steps: Steps, model: type[Section]) -> Steps:
    """The path itself, or the list of plain values that it is an item of."""
    while steps and isinstance(steps[-1], int):
        items = get_args(field_at(steps[:-1], model))
        if items and isinstance(items[0], type) and issubclass(items[0], Section):
            break
        steps = steps[:-1]
    return steps


def _fault(detail: ErrorDetails, model: type[Section]) -> Fault:
    path, context = join(detail["loc"]), detail.get("ctx", {})
    shown = json.dumps(detail["input"], ensure_ascii=False)
    value = shown if len(shown) <= 70 else shown[:66] + " ..."
    if detail["type"] == "extra_forbidden":
        return unknown_key(detail["loc"], model)
    if detail["type"] == "line_value":
        return Fault(path, value, context["rule"], _advice(context["advice"], detail["loc"], model))
    if detail["type"] == "literal_error":
        return Fault(path, value, "not one of the choices", f"write {context['expected']}")
    rule, advice = _TYPES.get(detail["type"], (detail["msg"], ""))
    return Fault(path, value, rule, advice)


def _advice(advice: str, steps: Steps, model: type[Section]) -> str:
    found = field_at(steps, model)
    return fitting(advice, join(steps), found.kind) if isinstance(found, Physical) else advice


def unknown_key(steps: Steps, model: type[Section] = LineFile) -> Fault:
    """The fault of a key that does not exist, with the nearest that do."""
    path, section = join(steps), field_at(steps[:-1], model)
    if path in _NOT_YET:
        return Fault(path, "", "cannot be used", _NOT_YET[path])
    if re.fullmatch("gd2|pd2|wr2|wk2", str(steps[-1]).lower()):
        name = str(steps[-1]).upper()
        return Fault(path, "", "is not a key: a moment of inertia is", f'write inertia = "{name} = 1.8 kgf*m^2"')
    known = list(section.model_fields) if isinstance(section, type) and issubclass(section, Section) else []
    near = _core.near_matches(str(steps[-1]), known)
    place = f"[{join(steps[:-1])}]" if len(steps) > 1 else "a line file"
    words = " or ".join(f'"{name}"' for name in near)
    advice = f"did you mean {words}?" if near else f"its keys are {', '.join(known) or 'none so far'}"
    return Fault(path, "", f"is not a key of {place}", advice)


def unknown_path(path: str, known: list[str]) -> Fault:
    """The fault of a path that names nothing in a line."""
    near = _core.near_matches(path, known)
    words = " or ".join(f'"{name}"' for name in near)
    steps = split(path)
    if not near and steps and field_at(steps[:-1]) is not None:
        return unknown_key(steps)
    advice = f"did you mean {words}?" if near else 'write section and key, for instance "engine.bore"'
    return Fault(path, "", "is not a path of this line", advice)
