"""Dotted paths such as "plate.stages[0].stiffness": what they name, where they stand in a document."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import Any, get_args

from pydantic.fields import FieldInfo

from calmshaft.quantity import Quantity
from calmshaft.schema import LineFile, Section
from calmshaft.schema_fields import Physical

Steps = tuple[str | int, ...]
_STEP = re.compile(r"([A-Za-z_]\w*)|\[(\d{1,3})\]", re.ASCII)


def join(steps: Steps) -> str:
    """("plate", "stages", 0) -> "plate.stages[0]"."""
    text = "".join(f"[{step}]" if isinstance(step, int) else f".{step}" for step in steps)
    return text.removeprefix(".")


@lru_cache(maxsize=4096)
def split(path: str) -> Steps:
    """The inverse of join; an empty tuple where the text is no path."""
    steps = tuple(int(index) if index else name for name, index in _STEP.findall(path))
    return steps if join(steps) == path else ()


def _part(annotation: Any) -> Any:
    """The section, list item or value type inside `X | None`."""
    inside = [part for part in get_args(annotation) if part is not type(None)]
    return inside[0] if inside else annotation


def field_at(steps: Steps, model: type[Section] = LineFile) -> Any:
    """The section class, list type or Physical that a path names; None where it names nothing known."""
    here: Any = model
    for step in steps:
        if isinstance(step, int):
            here = _entry(get_args(here)[0]) if getattr(here, "__origin__", None) is list else None
        else:
            fields = here.model_fields if isinstance(here, type) and issubclass(here, Section) else {}
            here = _of_field(fields[step]) if step in fields else None
        if here is None:
            return None
    return here


def _entry(annotation: Any) -> Any:
    marks = [mark for mark in getattr(annotation, "__metadata__", ()) if isinstance(mark, Physical)]
    return marks[0] if marks else annotation


def _of_field(field: FieldInfo) -> Any:
    marks = [mark for mark in field.metadata if isinstance(mark, Physical)]
    return marks[0] if marks else _part(field.annotation)


def kind_at(path: str) -> str | None:
    """Name of the kind of a physical value; None for text, whole numbers, lists, sections and unknown paths."""
    found = field_at(split(path))
    return found.kind if isinstance(found, Physical) else None


def flatten(section: Section, prefix: Steps = ()) -> Iterator[tuple[str, Any]]:
    """Path and value of everything given: Quantity, word, whole number, or list (of SI values where physical)."""
    for name in type(section).model_fields:
        value, here = getattr(section, name), (*prefix, name)
        if isinstance(value, Section):
            yield from flatten(value, here)
        elif isinstance(value, list) and value and isinstance(value[0], Section):
            for index, item in enumerate(value):
                yield from flatten(item, (*here, index))
        elif isinstance(value, list):
            yield join(here), [item.value if isinstance(item, Quantity) else item for item in value]
        elif value is not None:
            yield join(here), value


def get(document: Mapping[str, Any], path: str) -> Any:
    """What stands at a path; None where nothing does."""
    here: Any = document
    for step in split(path):
        try:
            here = here[step]
        except (KeyError, IndexError, TypeError):
            return None
    return here


def put(document: dict[str, Any], path: str, value: Any) -> None:
    """Write a value, making the sections on the way. Raises IndexError where a list is too short by more than one."""
    *way, last = split(path)
    here: Any = document
    for step, following in zip(way, [*way[1:], last], strict=True):
        here = _child(here, step, [] if isinstance(following, int) else {})
    if isinstance(here, list) and last == len(here):
        here.append(value)
    else:
        here[last] = value


def _child(parent: Any, step: str | int, empty: Any) -> Any:
    if isinstance(parent, list):
        if step == len(parent):
            parent.append(empty)
        return parent[step]
    return parent.setdefault(step, empty)


def remove(document: dict[str, Any], path: str) -> None:
    """Take a key away where it stands; an item of a list becomes an empty table: the others keep their place."""
    *way, last = split(path)
    parent = get(document, join(tuple(way)))
    if isinstance(parent, list) and isinstance(last, int) and last < len(parent):
        parent[last] = {}
    elif isinstance(parent, dict):
        parent.pop(last, None)
