"""The parts of a line in ink, seen from the side. Coordinates are millimetres on paper; `y` is the crank's axis."""

from __future__ import annotations

import math

import numpy as np
from matplotlib.axes import Axes
from matplotlib.patches import FancyBboxPatch, Polygon, Rectangle

from calmshaft.plots.machine import Cylinder, Machine
from calmshaft.plots.style import INK, PALE, WARM

SMALL = 6.5  # points
_LINE = 0.8  # points
_FILL = "#e9ecee"


def block(ax: Axes, x: float, y: float, width: float, height: float, gid: str = "", **look: object) -> None:
    """A rectangle by its lower left corner, white with an ink outline."""
    style = {"facecolor": "white", "edgecolor": INK, "linewidth": _LINE, **look}
    ax.add_patch(Rectangle((x, y), width, height, gid=gid or None, **style))  # type: ignore[arg-type]


def stroke(ax: Axes, x: list[float], y: list[float], **look: object) -> None:
    style = {"color": INK, "linewidth": _LINE, "solid_capstyle": "round", **look}
    ax.plot(x, y, **style)  # type: ignore[arg-type]


def draw_engine(ax: Axes, machine: Machine, y: float) -> None:
    """Block, head and sump, and every cylinder with its piston as it stands when cylinder 1 fires."""
    scale, begin = machine.scale, machine.x(0.0)
    width, deck, bore = machine.engine * scale, machine.deck * scale, machine.bore * scale
    if machine.tilt < 1.0:
        block(ax, begin + 1.5, y + deck, width - 3.0, _head(machine) + 0.4 * bore, facecolor=_FILL, linewidth=0.5)
    block(ax, begin, y - 0.45 * bore, width, deck + 0.45 * bore, gid="engine block", zorder=1.5)
    block(ax, begin + 0.8, y + deck, width - 1.6, _head(machine), zorder=1.5)
    low = (machine.crank_radius + 0.7 * machine.bore) * scale
    corners = [
        (begin + 0.5, -0.45 * bore),
        (begin + width - 0.5, -0.45 * bore),
        (begin + width - 3.0, -low),
        (begin + 3.0, -low),
    ]
    ax.add_patch(Polygon([(x, y + height) for x, height in corners], facecolor="white", edgecolor=INK, linewidth=_LINE))
    stroke(ax, [begin - 2.0, machine.x(machine.begins["flywheel"])], [y, y], linewidth=2.2, zorder=2)
    for cylinder in machine.cylinders:
        (_near_cylinder if cylinder.near else _far_cylinder)(ax, machine, cylinder, y)


def _head(machine: Machine) -> float:
    """Height [mm] of the cylinder head, high enough for a number."""
    return max(0.35 * machine.bore * machine.scale, 2.8)


def _near_cylinder(ax: Axes, machine: Machine, cylinder: Cylinder, y: float) -> None:
    """Bore, piston, rod and throw. Piston pin above the crank: r cos a + sqrt(l^2 - (r sin a)^2)."""
    scale, x = machine.scale, machine.x(cylinder.along)
    bore, radius, rod = machine.bore * scale, machine.crank_radius * scale, machine.rod * scale
    pin = radius * math.cos(cylinder.angle)
    piston = pin + math.sqrt(rod**2 - (radius * math.sin(cylinder.angle)) ** 2)
    wall, crown = radius + rod + 0.45 * bore, piston + 0.45 * bore
    tilt = machine.tilt
    for side in (-1, 1):
        stroke(
            ax, [x + side * bore / 2] * 2, [y + wall * tilt, y + (wall - 2.4 * radius - 0.2 * bore) * tilt], zorder=2
        )
        block(ax, x + side * 0.27 * bore - 0.06 * bore, y + min(pin * tilt, 0.0) - 0.1 * bore, 0.12 * bore,
              abs(pin) * tilt + 0.2 * bore, zorder=2.2, linewidth=0.6)  # fmt: skip
    stroke(ax, [x - 0.27 * bore, x + 0.27 * bore], [y + pin * tilt] * 2, linewidth=1.6, zorder=2.3)
    stroke(ax, [x, x], [y + pin * tilt, y + piston * tilt], linewidth=1.4, zorder=2.4)
    block(ax, x - 0.47 * bore, y + (crown - 0.75 * bore) * tilt, 0.94 * bore, 0.75 * bore * tilt, zorder=2.5,
          gid=f"piston {cylinder.number}", facecolor=PALE)  # fmt: skip
    _number(ax, machine, cylinder, x, y + machine.deck * scale + _head(machine) / 2)


def _far_cylinder(ax: Axes, machine: Machine, cylinder: Cylinder, y: float) -> None:
    """Of the bank behind only the head shows."""
    bore = machine.bore * machine.scale
    _number(
        ax, machine, cylinder, machine.x(cylinder.along), y + machine.deck * machine.scale + _head(machine) + 0.2 * bore
    )


def _number(ax: Axes, machine: Machine, cylinder: Cylinder, x: float, y: float) -> None:
    """The number on the head; a dead cylinder is crossed out, a weak one carries its strength."""
    strength, bore = cylinder.strength, machine.bore * machine.scale
    weight = "bold" if strength < 1.0 else "normal"
    share = f"{100 * strength:.3g} %" if 0.0 < strength < 1.0 else ""
    look = {"ha": "center", "va": "center", "color": INK, "zorder": 4, "fontweight": weight}
    inside = cylinder.near and bool(share)
    words = f"{cylinder.number}: {share}" if share and not inside else f"{cylinder.number}"
    ax.text(x, y, words, fontsize=SMALL, gid=f"cylinder {cylinder.number}", **look)
    if inside:  # where a bore is narrow the share would not fit beside the number
        ax.text(x, y - 0.75 * bore, share.replace(" ", ""), fontsize=6.0, gid=f"weak {cylinder.number}", **look)
    if strength == 0.0:
        up, down = (0.2, 0.2 + 0.6 * machine.deck / machine.bore) if cylinder.near else (0.22, 0.22)
        low, high = y - down * bore, y + up * bore
        for begin, end in ((low, high), (high, low)):
            stroke(ax, [x - 0.5 * bore, x + 0.5 * bore], [begin, end], color=WARM, linewidth=1.6, zorder=3.5,
                   gid=f"dead {cylinder.number}")  # fmt: skip


def draw_flywheel_and_plate(ax: Axes, machine: Machine, y: float) -> None:
    """The flywheel in section, the plate with two of its springs; a solid drive has none."""
    scale, begins = machine.scale, machine.begins
    half, width = machine.flywheel * scale / 2, machine.flywheel_width * scale
    x = machine.x(begins["flywheel"])
    end = machine.x(begins["box"])
    housing = [(x, half * 1.12), (x + width * 1.3, half * 1.12), (end, half * 0.8)]
    outline = housing + [(place, -height) for place, height in reversed(housing)]
    ax.add_patch(
        Polygon([(place, y + height) for place, height in outline], facecolor="white", edgecolor=PALE, linewidth=1.0)
    )
    block(ax, x, y - half, width, 2 * half, gid="flywheel", facecolor=_FILL, hatch="////")
    x, tall, wide = x + width, machine.plate[0] * scale / 2, machine.plate[1] * scale
    if machine.rigid:
        block(ax, x, y - 0.35 * tall, wide, 0.7 * tall, gid="solid drive", facecolor=_FILL, hatch="////")
        return
    block(ax, x + 0.35 * wide, y - tall, 0.3 * wide, 2 * tall, gid="plate")
    for side in (-1, 1):
        _coil(ax, x + 0.5 * wide, y + side * 0.62 * tall, 0.8 * wide, 0.42 * tall)
    block(ax, x + 0.2 * wide, y - 0.22 * tall, 0.6 * wide, 0.44 * tall)


def _coil(ax: Axes, x: float, y: float, wide: float, tall: float) -> None:
    block(ax, x - wide / 2, y - tall / 2, wide, tall, gid="plate spring", zorder=2)
    turns = np.linspace(-tall / 2, tall / 2, 11)
    stroke(ax, list(x + wide * 0.4 * np.where(np.arange(11) % 2, 1, -1)), list(y + turns), linewidth=0.6, zorder=2.1)


def draw_gearbox(ax: Axes, machine: Machine, y: float) -> None:
    """Housing, the gear pair by its ratio, and the pairs that turn along. Pale what does not turn in neutral."""
    scale, apart = machine.scale, machine.centres * machine.scale
    x, width = machine.x(machine.begins["box"]), machine.box * scale
    radius = 0.3 * machine.flywheel * scale
    low = y - (apart if machine.ratio else 0.0) - radius
    ax.add_patch(FancyBboxPatch((x + 1.0, low + 1.0), width - 2.0, y + radius - low - 2.0, boxstyle="round,pad=1.0",
                                facecolor="white", edgecolor=INK, linewidth=_LINE, gid="gearbox"))  # fmt: skip
    stroke(ax, [x - machine.plate[1] * scale * 0.2, x + width * 0.92], [y, y], linewidth=1.8)
    tooth = 0.08 * machine.flywheel * scale
    for place, name in enumerate(machine.pairs):
        _gear(
            ax,
            x + width * 0.16 + place * 1.6 * tooth,
            y,
            tooth,
            0.2 * machine.flywheel * scale,
            f"pair {name}",
            hatch="",
        )
    if machine.ratio:
        neutral, at = machine.gear == "neutral", machine.x(machine.gear_place)
        pinion, wheel = apart / (1 + machine.ratio), apart * machine.ratio / (1 + machine.ratio)
        stroke(ax, [x + width * 0.1, x + width], [y - apart] * 2, linewidth=1.8, color=PALE if neutral else INK)
        _gear(ax, at, y, tooth, pinion - (0.8 if neutral else 0.0), "input gear")
        _gear(
            ax,
            at,
            y - apart,
            tooth,
            wheel - (0.8 if neutral else 0.0),
            "output gear",
            edgecolor=PALE if neutral else INK,
        )


def _gear(ax: Axes, x: float, y: float, wide: float, radius: float, gid: str, **look: object) -> None:
    """A gear from the side: its teeth are lines along the axis."""
    block(ax, x - wide / 2, y - radius, wide, 2 * radius, gid=gid, zorder=2, **{"hatch": "-----", **look})


def draw_shaft(ax: Axes, machine: Machine, y: float) -> None:
    """The shaft to scale, with a break where it is drawn shorter than it is."""
    begin, end = machine.x(machine.begins["shaft"]), machine.x(machine.begins["propeller"])
    thick = max(machine.shaft_diameter * machine.scale, 0.8)
    colour = _turning(machine)
    block(ax, begin, y - thick / 2, end - begin, thick, gid="shaft", edgecolor=colour)
    if machine.shaft_shown < machine.shaft_length * 0.999:
        middle, reach = (begin + end) / 2, thick / 2 + 1.2
        wave = np.linspace(-reach, reach, 25)
        bend = 0.7 * np.sin(wave / reach * math.pi)
        ax.fill_betweenx(y + wave, middle - 0.9 + bend, middle + 0.9 + bend, color="white", linewidth=0, zorder=2.5)
        for side in (-0.9, 0.9):
            stroke(ax, list(middle + side + bend), list(y + wave), color=colour, zorder=2.6, gid="break mark")


def draw_propeller(ax: Axes, machine: Machine, y: float) -> None:
    """Hub and blades; a blade that points towards the onlooker is short."""
    x = machine.x(machine.begins["propeller"])
    wide = machine.x(machine.begins["end"]) - x
    colour = _turning(machine)
    for blade in range(machine.blades):
        reach = machine.blade_reach(blade) * machine.scale
        along = np.linspace(0.0, 1.0, 21)
        bulge = wide * 0.42 * np.sin(math.pi * along**0.75) * (0.75 if blade == 0 else 1.0)
        centre = x + wide * (0.5 + 0.12 * along)
        outline = np.concatenate([np.column_stack([centre - bulge, y + reach * along]),
                                  np.column_stack([centre + bulge, y + reach * along])[::-1]])  # fmt: skip
        ax.add_patch(Polygon(outline, facecolor=_FILL, edgecolor=colour, linewidth=_LINE, zorder=1.8, gid="blade"))
    hub = 0.08 * machine.propeller * machine.scale
    block(ax, x, y - hub, wide, 2 * hub, zorder=2, gid="hub", edgecolor=colour)


def _turning(machine: Machine) -> str:
    return PALE if machine.gear == "neutral" else INK
