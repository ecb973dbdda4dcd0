"""What the chunks of a sweep belong to, as a plain document, and where two of them differ."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Mapping
from dataclasses import asdict
from typing import Any

import numpy as np

from calmshaft import _core
from calmshaft.designs import Design
from calmshaft.output import json_ready
from calmshaft.runs import cylinders, prepared
from calmshaft.sweep_runs import chunk_of

FORMAT = 1  # of the chunk files and of this document
LISTED = 1000  # values of an axis that are written out; longer ones are told by their ends and a hash
NODES = 720  # of the engine's tables, for their hash
SHOWN = 3  # differences that a refusal names


def manifest_of(design: Design, steps_per_cycle: int) -> dict[str, Any]:
    """All that decides the numbers of a sweep.

    `tables` is a hash of the engine's torque and inertia over crank angle at the first point, which no processor's
    instruction set changes: it tells a library that works them out otherwise. Raises LineError where that point
    does not fit.
    """
    plates = design.plates()
    document = {
        "format": FORMAT,
        "calmshaft": _core.__version__,
        "chunk": chunk_of(design),
        "condition": asdict(design.base),
        "keep": design.keep,
        "steps_per_cycle": steps_per_cycle,
        "tables": _tables(design),
        "order of axes": list(design.coords),
        "axes": {name: plain_axis(*about) for name, about in design.coords.items()},
        "line": design.line.document,
        **({"plates": plates} if plates else {}),
        **design.extra,
        "start": design.started(),
    }
    plain: dict[str, Any] = json.loads(json.dumps(json_ready(document)))
    return plain


def differences(there: Any, here: Any, path: str = "") -> Iterator[str]:
    """Each place where two documents differ, in words: "line.engine.bore: 92 mm there, 95 mm now"."""
    if isinstance(there, dict) and isinstance(here, dict):
        for key in dict.fromkeys([*there, *here]):
            inner = f"{path}.{key}" if path else key
            if key not in there or key not in here:
                yield f"{inner}: {_shown(there.get(key, 'nothing'))} there, {_shown(here.get(key, 'nothing'))} now"
            else:
                yield from differences(there[key], here[key], inner)
    elif isinstance(there, list) and isinstance(here, list) and len(there) == len(here):
        for place, (old, new) in enumerate(zip(there, here, strict=True)):
            yield from differences(old, new, f"{path}[{place}]")
    elif there != here:
        yield f"{path}: {_shown(there)} there, {_shown(here)} now"


def differences_in_words(there: Any, here: Any) -> str:
    """The first differences and how many more there are; empty where the documents are alike."""
    found = list(differences(there, here))
    more = f"; and {len(found) - SHOWN} more" if len(found) > SHOWN else ""
    return "; ".join(found[:SHOWN]) + more


def _shown(value: Any) -> str:
    if isinstance(value, dict):
        return _shown(value["values"]) if "values" in value else "given"
    if isinstance(value, list):
        ends = f" from {_shown(value[0])} to {_shown(value[-1])}" if value else ""
        return f"{len(value)} values{ends}"
    text = value if isinstance(value, str) else json.dumps(value)
    return text if len(text) <= 60 else f"{text[:56]} ..."


def plain_axis(dims: Any, values: np.ndarray, attributes: Mapping[str, Any]) -> dict[str, Any]:
    """An axis in plain values: its dimensions, unit and values, long ones by ends and hash."""
    about = {"dims": [dims] if isinstance(dims, str) else list(dims), "unit": attributes.get("units", "")}
    if values.size <= LISTED:
        return {**about, "values": values.tolist()}
    text = json.dumps(values.tolist()).encode()
    ends = {"count": values.size, "first": values.flat[0], "last": values.flat[-1]}
    return {**about, **ends, "hash": hashlib.sha256(text).hexdigest()}


def _tables(design: Design) -> str:
    (line,), _, (at,) = design.points(0, 1)
    found = _core.mass_elastic_system(prepared(line), at.core(cylinders(line)), NODES)["tables"]
    digest = hashlib.sha256()
    for name in sorted(found):
        digest.update(np.ascontiguousarray(found[name]).tobytes())
    return digest.hexdigest()
