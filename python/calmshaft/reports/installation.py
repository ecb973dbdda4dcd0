"""What is installed, under which conditions it runs, and the mass-elastic system that the calculation makes of it."""

from __future__ import annotations

import math
from typing import Any

from calmshaft import _core, units
from calmshaft.condition import Condition
from calmshaft.line import Line
from calmshaft.quantity import Quantity
from calmshaft.reports.parts import Pictures, Section, Table, Text, section
from calmshaft.runs import condition_text, cylinders, prepared
from calmshaft.schema_paths import kind_at
from calmshaft.summary import coupling_rows, station_rows
from calmshaft.wording import listed, number

_BEHIND = {  # what a station or coupling is made of, by the keys that give it
    "crank and flywheel": ("flywheel.inertia", "engine.crank_inertia"),
    "plate": ("plate.stages[0].stiffness", "plate.hysteresis_full_width", "plate.viscous_damping"),
    "gearbox input": ("gearbox.input_inertia", "plate.hub_inertia"),
    "gearbox output": ("gearbox.ahead.output_inertia",),
    "loaded mesh": ("gearbox.ahead.mesh_stiffness", "gearbox.ahead.backlash"),
    "shaft": ("shaft.diameter", "shaft.length", "shaft.shear_modulus", "shaft.damping_ratio"),
    "propeller": ("propeller.inertia", "propeller.water_inertia", "propeller.extra_damping"),
}


def installation(line: Line, picture: Pictures) -> Section | None:
    """Engine to propeller in a few rows, and the line drawn."""
    rows = [["part", "what"], *part_rows(line)]
    return section("Installation", Table("", rows), picture)


def part_rows(line: Line) -> list[list[str]]:
    """(part, what it is) from engine to propeller, of those that are known."""
    document, engine = line.document, line.document.get("engine", {})
    show = {key: _shown(line, key) for key in line.quantities}
    order = engine.get("firing_order")
    firing = f"firing order {'-'.join(map(str, order))}" if order else "firing angles given"
    gears = [
        f"{gear} {show[f'gearbox.{gear}.ratio']} : 1" for gear in ("ahead", "astern") if f"gearbox.{gear}.ratio" in show
    ]
    plate, box = document.get("plate", {}), document.get("gearbox", {})
    rows = [
        [
            "engine",
            _joined(
                f"{cylinders(line)} cylinders {engine.get('layout', 'inline')}",
                f"{engine.get('strokes', '')}-stroke {engine.get('fuel', '')}".strip(),
                firing,
                _said(show, "bore", "engine.bore"),
                _said(show, "stroke", "engine.stroke"),
            ),
        ],
        [
            "rating",
            _joined(
                _said(show, "", "engine.rated_torque"),
                _said(show, "", "engine.rated_power"),
                _said(show, "at", "engine.rated_rpm"),
            ),
        ],
        ["flywheel", _said(show, "inertia", "flywheel.inertia")],
        [
            "plate or coupling",
            _joined(
                plate.get("title", plate.get("kind", "")),
                *_plate(line),
                _said(show, _torque_words(line), "plate.rated_torque"),
            ),
        ],
        [
            "gearbox",
            _joined(
                box.get("title", ""),
                listed(gears) if gears else "neutral only",
                _said(show, "rated", "gearbox.rated_torque"),
            ),
        ],
        [
            "shaft",
            _joined(
                _said(show, "diameter", "shaft.diameter"),
                _said(show, "length", "shaft.length"),
                document.get("shaft", {}).get("material", ""),
            ),
        ],
        [
            "propeller",
            _joined(
                _said(show, "diameter", "propeller.diameter"),
                _said(show, "pitch", "propeller.pitch"),
                _said(show, "blades", "propeller.blades"),
                _said(show, "mass", "propeller.mass"),
            ),
        ],
    ]
    return [row for row in rows if row[1]]


def _torque_words(line: Line) -> str:
    found = line.quantities.get("plate.rated_torque")
    return "estimated torque" if found and found.source == "estimated" else "stated torque"


def _plate(line: Line) -> tuple[str, ...]:
    drive = line.core.plate.drive
    if not line.has_plate:
        return ()
    slopes = " then ".join(number(stage.stiffness * math.pi / 180) for stage in drive.stages)
    stop = (
        f"stop at {number(math.degrees(drive.stop_angle))} deg" if math.isfinite(drive.stop_angle) else "stop not known"
    )
    return f"{slopes} N m/deg", stop


def _joined(*texts: str) -> str:
    return ", ".join(text for text in texts if text)


def _said(show: dict[str, str], words: str, key: str) -> str:
    return f"{words} {show[key]}".strip() if key in show else ""


def _shown(line: Line, path: str) -> str:
    return units.show(line.quantities[path].value, kind_at(path) or "pure").replace("*", " ")


def operating(line: Line) -> Section | None:
    """Idle, range, fuelling, load; what of manoeuvres was not looked at."""
    rows = [["condition", "value", "source"]]
    for key, words in (
        ("engine.idle_rpm", "idle speed, in neutral and in gear"),
        ("engine.max_shift_rpm", "fastest speed to shift at"),
        ("engine.rated_rpm", "rated speed"),
        ("propeller.full_throttle_rpm", "full throttle ahead, as reached"),
        ("propeller.tied_up_factor", "torque tied up over that under way"),
        ("engine.governor.droop", "governor droop"),
    ):
        if key in line.quantities:
            rows.append([words, _shown(line, key), line.quantities[key].source])
    words = (
        "Judged from idle to rated speed, under way, the mean speed held by the governor. Starting, stopping, "
        "engaging, reversal, a rope in the propeller and running astern were not looked at here: `calmshaft` has "
        "manoeuvres in time for them (cs.simulate)."
    )
    return section("Operating conditions", Table("", rows), Text(words))


def mass_elastic(line: Line, at: Condition, picture: Pictures, full: bool) -> Section | None:
    """Stations and couplings, each with the source and range of what it is made of."""
    system = _core.mass_elastic_system(prepared(line), at.core(cylinders(line)))
    stations, couplings = station_rows(system), coupling_rows(system)
    if full:
        stations, couplings = (_sourced(line, rows) for rows in (stations, couplings))
    words = f"At {condition_text(at)}; each value on its own shaft, speeds over the crank's, teeth in contact."
    return section(
        "Mass-elastic system", Text(words), Table("Stations", stations), Table("Couplings", couplings), picture
    )


def _sourced(line: Line, rows: list[list[str]]) -> list[list[str]]:
    made = [[*rows[0], "made of (source, range)"]]
    tables = _of_tables(line)
    for row in rows[1:]:
        name = "shaft" if row[0].startswith("shaft") else row[0]
        keys = tables.get(name) or _BEHIND.get(name) or _unloaded(line, name)
        made.append([*row, "; ".join(_source(key, line.quantities[key]) for key in keys if key in line.quantities)])
    return made


def _of_tables(line: Line) -> dict[str, tuple[str, ...]]:
    """Keys behind what a maker's mass-elastic table gives, by the name of a mass or of a connection."""
    table: dict[str, list[dict[str, Any]]] = line.document.get("mass_elastic", {})
    masses, joints = table.get("masses", []), table.get("connections", [])
    found = {one.get("name", ""): (f"mass_elastic.masses[{place}].inertia",) for place, one in enumerate(masses)}
    for place, one in enumerate(joints):
        stem = f"mass_elastic.connections[{place}]"
        found[f"{one.get('from')} to {one.get('to')}"] = (f"{stem}.stiffness", f"{stem}.damping")
    return found


def _unloaded(line: Line, name: str) -> tuple[str, ...]:
    """Keys of an unloaded pair by its name; those without one are numbered."""
    pairs: list[dict[str, Any]] = line.document.get("gearbox", {}).get("unloaded", [])
    names = [pair.get("name", f"free pair {place + 1}") for place, pair in enumerate(pairs)]
    if name not in names:
        return ()
    return tuple(f"gearbox.unloaded[{names.index(name)}].{key}" for key in ("inertia", "backlash", "drag"))


def _source(key: str, one: Quantity) -> str:
    spread = ""
    if one.low < one.high and one.value:
        spread = f", {100 * (one.low / one.value - 1):+.0f} to {100 * (one.high / one.value - 1):+.0f} %"
    return f"{key.rpartition('.')[2].replace('_', ' ')} {one.source}{spread}"
