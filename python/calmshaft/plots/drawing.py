"""The line as machinery seen from the side, and beneath it, part by part, what the calculation makes of it."""

from __future__ import annotations

import textwrap
from typing import Any

from matplotlib.axes import Axes

from calmshaft import _core
from calmshaft.condition import Condition
from calmshaft.line import Line
from calmshaft.plots.labels import spread, text_width
from calmshaft.plots.machine import PAPER, Machine, machine_of
from calmshaft.plots.machine_parts import (
    SMALL,
    draw_engine,
    draw_flywheel_and_plate,
    draw_gearbox,
    draw_propeller,
    draw_shaft,
    stroke,
)
from calmshaft.plots.mass_row import LARGEST, PAIR_STEP, STEP, disc_radii, draw_row
from calmshaft.plots.style import INK, PALE, new_figure, plain
from calmshaft.runs import condition_text, cylinders, prepared
from calmshaft.wording import number

_INCH = 25.4  # [mm]
_NAMES = 7.5  # points
_TITLE = 13.0  # [mm] above the names of the parts
_NAME_ROOM = 12.0  # [mm] for the names above the machinery
_LINK = 11.0  # [mm] between the machinery and the discs
_ENGINE_ROOM = 40.0  # [mm] at least from the engine's disc to the gears
_SHAFT_ROOM = 44.0  # [mm] at least from the gears to the propeller's disc
_CAPTION = 9.8  # [mm]
_BARS = (0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0)  # [m] of the scale


def side_view(line: Line, at: Condition, ax: Axes | None = None) -> Axes:
    """The line seen from the side, with its mass-elastic system beneath, for a print 160 mm wide.

    Drawn to one scale where the line tells a size; a long shaft is broken. Dead cylinders are crossed out, and in
    neutral what stands still is pale. Discs have areas in proportion to inertia at the crank's speed. Data units are
    millimetres on paper. Raises LineError where the condition does not fit the line, ValueError for a line with a
    mass-elastic table, which says nothing of the shape of its parts.
    """
    if line.document.get("mass_elastic"):
        raise ValueError("a mass-elastic table does not say what its parts look like: describe the parts to draw them")
    system = _core.mass_elastic_system(prepared(line), at.core(cylinders(line)), 720)
    tables = system["tables"]["inertia"]
    system["stations"][0]["inertia"] += float(tables.mean())
    machine = machine_of(line, at)
    row = _row_heights(system)
    machinery = (machine.top - machine.bottom) * machine.scale
    height = _CAPTION + sum(row) + _LINK + machinery + _NAME_ROOM + _TITLE
    ax = _paper(ax, height)
    axis = _CAPTION + sum(row) + _LINK - machine.bottom * machine.scale
    _draw_machine(ax, machine, axis)
    _name_parts(ax, machine, axis)
    _scale_bar(ax, machine, axis)
    places = _row_places(machine)
    _link(ax, machine, places, axis, _CAPTION + row[0])
    draw_row(ax, system, places, _CAPTION + row[0])
    _words(ax, line, at, machine, height)
    return ax


def _paper(ax: Axes | None, height: float) -> Axes:
    if ax is None:
        figure = new_figure((PAPER / _INCH, height / _INCH))
        figure.set_layout_engine("none")
        ax = figure.add_axes((0.0, 0.0, 1.0, 1.0))
    ax.set_xlim(0.0, PAPER)
    ax.set_ylim(0.0, height)
    ax.set_aspect("equal")
    ax.set_axis_off()
    return ax


def _row_heights(system: dict[str, Any]) -> tuple[float, float]:
    """Room [mm] below and above the crank's wire."""
    geared = any(coupling["kind"] == "loaded mesh" for coupling in system["couplings"])
    pairs = sum(coupling["kind"] == "unloaded mesh" for coupling in system["couplings"])
    labels = 9.0
    below = max(LARGEST, (STEP + max(disc_radii(system)[1:])) if geared else 0.0) + labels
    return below, max(LARGEST, 9.0, (pairs - 1) * PAIR_STEP + 3.0)


def _draw_machine(ax: Axes, machine: Machine, axis: float) -> None:
    output = axis - machine.centres * machine.scale
    draw_flywheel_and_plate(ax, machine, axis)
    draw_engine(ax, machine, axis)
    if machine.ratio:
        draw_shaft(ax, machine, output)
        draw_propeller(ax, machine, output)
    draw_gearbox(ax, machine, axis)


def _row_places(machine: Machine) -> dict[str, float]:
    """x [mm] of the discs: under the parts that they stand for, or aside where labels need the room."""
    spans = _spans(machine)
    gears = machine.x(machine.gear_place)
    room = 2.0 + LARGEST
    return {
        "engine": max(min(sum(spans["engine"]) / 2, gears - _ENGINE_ROOM), room),
        "gears": gears,
        "propeller": min(max(sum(spans.get("propeller", (PAPER, PAPER))) / 2, gears + _SHAFT_ROOM), PAPER - room),
    }


def _spans(machine: Machine) -> dict[str, tuple[float, float]]:
    """From where to where on paper [mm] the parts reach that turn as one."""
    spans = {"engine": ("engine", "plate"), "gears": ("plate", "shaft"), "propeller": ("propeller", "end")}
    if machine.rigid:
        spans = {"engine": ("engine", "shaft"), "propeller": ("propeller", "end")}
    if machine.ratio is None or machine.gear == "neutral":
        spans.pop("propeller")
    places = machine.begins
    return {
        part: (machine.x(places[begin]) + 0.6, machine.x(places[end]) - 0.6) for part, (begin, end) in spans.items()
    }


def _link(ax: Axes, machine: Machine, places: dict[str, float], axis: float, wire: float) -> None:
    """Brackets under the parts that turn as one, and a thread down to their disc."""
    level = axis + machine.bottom * machine.scale - 3.0
    for part, (left, right) in _spans(machine).items():
        stroke(ax, [left, left, right, right], [level + 1.2, level, level, level + 1.2], linewidth=0.5, gid="bracket")
        begin = min(max(places[part], left), right)
        low = wire - STEP if part == "propeller" else wire
        stroke(ax, [begin, places[part]], [level, low], color=PALE, linewidth=0.7, linestyle=(0, (3, 2)), zorder=1.0)


def _name_parts(ax: Axes, machine: Machine, axis: float) -> None:
    """Names over the machinery, pushed apart, each with a thread to its part."""
    names = _part_names(machine)
    words = [name for name, _, _ in names]
    wanted = [x for _, x, _ in names]
    widths = [text_width(word, _NAMES) + 2.5 for word in words]
    level = axis + machine.top * machine.scale + 3.0
    for word, x, place, (_, _, top) in zip(words, wanted, spread(wanted, widths, 1.0, PAPER - 1.0), names, strict=True):
        ax.text(place, level + 0.8, plain(word), ha="center", va="bottom", fontsize=_NAMES, color=INK, linespacing=1.1)
        stroke(ax, [place, x, x], [level, level - 2.0, axis + top], color=INK, linewidth=0.45, zorder=1.2)


def _part_names(machine: Machine) -> list[tuple[str, float, float]]:
    """(words, x of the part, height of its top over the crank's axis), all but words in [mm]."""
    begins, scale = machine.begins, machine.scale

    def middle(begin: str, end: str) -> float:
        return machine.x((begins[begin] + begins[end]) / 2)

    names = [
        (_engine_words(machine), middle("engine", "flywheel"), machine.top * scale),
        ("flywheel", middle("flywheel", "plate"), machine.flywheel * scale / 2),
        ("solid drive" if machine.rigid else "damper plate", middle("plate", "box"), machine.plate[0] * scale / 2),
        (f"gearbox\n{_gear_words(machine)}", middle("box", "shaft"), 0.3 * machine.flywheel * scale),
    ]
    if machine.ratio:
        axis = -machine.centres * scale
        size = f"{1000 * machine.shaft_diameter:.4g} mm, {number(machine.shaft_length)} m long"
        blades = f"{number(machine.propeller)} m, {machine.blades} blades"
        thick, half = machine.shaft_diameter * scale / 2, machine.propeller * scale / 2
        names.append((f"shaft\n{size}", middle("shaft", "propeller"), axis + thick))
        names.append((f"propeller\n{blades}", middle("propeller", "end"), axis + half))
    return names


def _engine_words(machine: Machine) -> str:
    count = len(machine.cylinders)
    layout = "" if count == 1 else (" in a vee" if machine.tilt < 1.0 else " inline")
    size = f"{1000 * machine.bore:.4g} x {2000 * machine.crank_radius:.4g} mm"
    return f"engine\n{count} cylinder{'s' if count > 1 else ''}{layout}, {size}"


def _gear_words(machine: Machine) -> str:
    if machine.gear == "neutral" or machine.ratio is None:
        return "in neutral"
    return f"{machine.gear}, {machine.ratio:.4g} : 1"


def _words(ax: Axes, line: Line, at: Condition, machine: Machine, height: float) -> None:
    """Title and condition at the top, what the drawing means at the bottom."""
    lines = textwrap.wrap(plain(line.title), 84, max_lines=2, placeholder=" ...")
    ax.text(2.0, height - 1.5, "\n".join(lines), ha="left", va="top", fontsize=9.5, color=INK)
    under = height - 1.5 - 4.4 * len(lines)
    ax.text(2.0, under, plain(condition_text(at)), ha="left", va="top", fontsize=_NAMES, color=INK)
    caption = textwrap.fill(" ".join(_caption(machine)), 132)
    ax.text(2.0, 1.0, caption, ha="left", va="bottom", fontsize=6.0, color=INK)


def _caption(machine: Machine) -> list[str]:
    shortened = machine.shaft_shown < machine.shaft_length * 0.999
    said = ["Discs: area by inertia at the crank's speed, the least ones drawn larger. Pistons: as cylinder 1 fires."]
    if any(cylinder.strength == 0.0 for cylinder in machine.cylinders):
        said.append("Crossed out: dead cylinder.")
    said.append(f"To one scale where sizes are known{', the shaft shortened' if shortened else ''};")
    signs = "plate and gearbox as signs only."
    said.append(signs if machine.flywheel_known else f"flywheel as a steel disc of its inertia, {signs}")
    if machine.tilt < 1.0:
        said.append("Cylinder numbers alternate between the banks by assumption.")
    if machine.gear == "neutral" and machine.ratio:
        said.append("Pale: stands still.")
    return said


def _scale_bar(ax: Axes, machine: Machine, axis: float) -> None:
    room = min(30.0, (machine.begins["box"] - machine.begins["engine"]) * machine.scale - 9.0)
    length = max(one for one in _BARS if one * machine.scale <= room or one == _BARS[0])
    x, y = machine.x(0.0), axis + machine.bottom * machine.scale + 0.5
    stroke(ax, [x, x, x + length * machine.scale, x + length * machine.scale], [y + 0.8, y, y, y + 0.8], linewidth=0.8)
    words = f"{number(length)} m"
    ax.text(x + length * machine.scale + 1.0, y, words, ha="left", va="center", fontsize=SMALL, color=INK, gid="scale")
