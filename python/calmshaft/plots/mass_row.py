"""The mass-elastic system as discs on wires: area by inertia at the crank's speed, springs, the step of the gears."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Mapping
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.patches import Circle

from calmshaft.plots.labels import text_width
from calmshaft.plots.machine import PAPER
from calmshaft.plots.machine_parts import SMALL, stroke
from calmshaft.plots.style import INK, PALE, plain
from calmshaft.wording import number

LARGEST = 8.5  # [mm] radius of the largest disc
SMALLEST = 0.9  # [mm] smaller ones would not be seen
STEP = 25.0  # [mm] from the crank's wire down to the output shaft's
PAIR_STEP = 7.5  # [mm] from one unloaded pair to the next
_PAIR_REACH = 17.0  # [mm] from the gearbox input to its unloaded pairs


def draw_row(ax: Axes, system: Mapping[str, Any], places: Mapping[str, float], y: float) -> None:
    """The whole row. system: as _core.mass_elastic_system gives it; places: x [mm] of the engine, gears, propeller."""
    spots = _spots(system, places, y)
    radii = disc_radii(system)
    for coupling in system["couplings"]:
        _draw_coupling(ax, system, coupling, spots, radii, places["gears"])
    for index, station in enumerate(system["stations"]):
        _draw_disc(ax, station, spots[index], radii[index], index)
    _name_stations(ax, system, spots, radii)


def referred(station: Mapping[str, Any]) -> float:
    """Inertia [kg m^2] at the crank's speed: J r^2."""
    return float(station["inertia"]) * float(station["speed_ratio"]) ** 2


def disc_radii(system: Mapping[str, Any]) -> list[float]:
    """Radii [mm] of the discs: area in proportion to inertia at the crank, the very small ones drawn larger."""
    inertias = [referred(station) for station in system["stations"]]
    return [max(LARGEST * math.sqrt(inertia / max(inertias)), SMALLEST) for inertia in inertias]


def _spots(system: Mapping[str, Any], places: Mapping[str, float], y: float) -> list[tuple[float, float]]:
    """Where each station's disc stands on paper [mm]."""
    spots = [(places["engine"], y)]
    pieces = [coupling for coupling in system["couplings"] if coupling["kind"] == "spring"]
    pairs = 0
    for index in range(1, len(system["stations"])):
        into = next(coupling for coupling in system["couplings"] if coupling["to"] == index)
        x, height = spots[into["from"]]
        if into["kind"] == "staged damper":
            spots.append((places["gears"], y))
        elif into["kind"] == "loaded mesh":
            spots.append((places["gears"], y - STEP))
        elif into["kind"] == "unloaded mesh":
            spots.append((places["gears"] + _PAIR_REACH, y + pairs * PAIR_STEP))
            pairs += 1
        else:
            spots.append((x + (places["propeller"] - places["gears"]) / len(pieces), height))
    return spots


def _draw_disc(ax: Axes, station: Mapping[str, Any], spot: tuple[float, float], radius: float, index: int) -> None:
    ax.add_patch(Circle(spot, radius, facecolor=PALE if station["speed_ratio"] == 1.0 else "white", edgecolor=INK,
                        linewidth=0.9, zorder=3, gid=f"disc {index}"))  # fmt: skip
    if radius > 2.0:
        ax.add_patch(Circle(spot, 0.45, facecolor=INK, edgecolor="none", zorder=3.1))


def _draw_coupling(ax: Axes, system: Any, coupling: Any, spots: Any, radii: Any, gears: float) -> None:
    (x0, y0), (x1, y1) = spots[coupling["from"]], spots[coupling["to"]]
    if "mesh" in coupling["kind"] and x0 != gears:  # a solid drive: the gears sit on the engine's disc
        stroke(ax, [x0, gears], [y0, y0], zorder=1.5)
        x0 = gears
    if coupling["kind"] == "unloaded mesh":
        bend = x0 + _PAIR_REACH * 0.45
        stroke(ax, [x0, bend, bend, x1 - 3.2], [y0, y0, y1, y1], zorder=1.5)
        _teeth(ax, x1 - 2.6, y1, 0.0)
        stroke(ax, [x1 - 2.0, x1], [y1, y1], zorder=1.5)
    elif coupling["kind"] == "loaded mesh":
        _gear_step(ax, coupling, (x0, y0), (x1, y1))
    else:
        first = coupling["from"] == 0 or system["stations"][coupling["from"]]["name"] == "gearbox output"
        _spring(ax, x0 + radii[coupling["from"]], x1 - radii[coupling["to"]], y0)
        if first:
            _spring_label(ax, system, coupling, spots, radii)


def _spring(ax: Axes, begin: float, end: float, y: float) -> None:
    room = end - begin
    coil = min(0.6 * room, 16.0)
    middle = (begin + end) / 2
    bends = max(3, min(11, int(coil / 1.3)))
    x = np.linspace(middle - coil / 2, middle + coil / 2, bends + 2)
    height = np.concatenate([[0.0], 1.6 * np.where(np.arange(bends) % 2, -1.0, 1.0), [0.0]])
    stroke(ax, [begin, *x, end], [y, *(y + height), y], zorder=1.5, gid="spring")


def _teeth(ax: Axes, x: float, y: float, angle: float) -> None:
    """Two combs that do not quite touch: backlash."""
    across = np.array([0.0, 1.0, 1.0, 0.0, 0.0, 1.0, 1.0, 0.0]) * 0.7
    along = np.array([-1.5, -1.5, -0.8, -0.8, 0.0, 0.0, 0.8, 0.8])
    for side in (0.0, 1.0):
        u, v = (side * 1.3 - 0.65) + across - 0.35, along + 0.4 * side + 0.3
        x_, y_ = (u, v) if angle == 0.0 else (v, u)
        stroke(ax, list(x + x_), list(y + y_), linewidth=0.7, zorder=1.6)


def _gear_step(ax: Axes, coupling: Any, upper: tuple[float, float], lower: tuple[float, float]) -> None:
    x, middle = upper[0], (upper[1] + lower[1]) / 2
    stroke(ax, [x, x], [upper[1], middle + 1.2], zorder=1.5)
    stroke(ax, [x, x], [middle - 1.2, lower[1]], zorder=1.5)
    _teeth(ax, x, middle, 90.0)
    turned = ", reversed" if coupling["ratio"] < 0 else ""
    words = f"gears {abs(coupling['ratio']):.4g} : 1{turned}\nplay {_degrees(2 * coupling['half_backlash'])} deg\n" \
            f"{_per_degree(coupling['stiffness'])} N m/deg"  # fmt: skip
    _label(ax, x - 3.5, middle, words, "right", "center")


def _spring_label(ax: Axes, system: Any, coupling: Any, spots: Any, radii: Any) -> None:
    """Over the wire; of a shaft in pieces the stiffness of the whole length."""
    (x0, y), (x1, _) = spots[coupling["from"]], spots[coupling["to"]]
    if coupling["kind"] == "staged damper":
        words = f"plate {' then '.join(plate_slopes(coupling))} N m/deg\n{_plate_play(coupling)}"
        ax_middle = (x0 + radii[0] + x1 - radii[coupling["to"]]) / 2
        _label(ax, ax_middle, y + 2.6, words, "center", "bottom")
        return
    pieces = [one for one in system["couplings"] if one["kind"] == "spring"]
    stiffness = 1.0 / sum(1.0 / one["stiffness"] for one in pieces)
    ratio = system["stations"][coupling["from"]]["speed_ratio"]
    inside = f", in {len(pieces)} pieces" if len(pieces) > 1 else ""
    words = f"shaft {_per_degree(stiffness)} N m/deg{inside}\n(at the crank {_per_degree(stiffness * ratio**2)})"
    _label(ax, (x0 + spots[-1 - _pairs(system)][0]) / 2, y + 2.6, words, "center", "bottom")


def _pairs(system: Any) -> int:
    return sum(coupling["kind"] == "unloaded mesh" for coupling in system["couplings"])


def plate_slopes(coupling: Mapping[str, Any]) -> list[str]:
    """Stiffness of the drive side's stages [N m/deg], from the middle outwards."""
    slopes = np.cumsum([ramp["slope"] for ramp in coupling["ramps"] if ramp["side"] > 0])
    return [_per_degree(slope) for slope in slopes]


def _plate_play(coupling: Mapping[str, Any]) -> str:
    play = coupling["ramps"][0]["corner"] * 2 if coupling["ramps"] else 0.0
    return f"free play {_degrees(play)} deg"


def _name_stations(ax: Axes, system: Any, spots: Any, radii: Any) -> None:
    """Name and inertia of every station but the pieces of a shaft."""
    for index, station in enumerate(system["stations"]):
        (x, y), radius = spots[index], radii[index]
        into = next((one for one in system["couplings"] if one["to"] == index), None)
        name = str(station["name"])
        if name.startswith("shaft") and into and into["kind"] == "spring":
            continue
        if into and into["kind"] == "unloaded mesh":
            _label(ax, x + radius + 1.2, y, f"{_short(name, 24)}  {_inertia(station)}", "left", "center")
        elif into and into["kind"] == "staged damper":
            _label(ax, x + 1.5, y - radius - 0.6, f"{name}\n{_inertia(station)}", "left", "top")
        else:
            words = f"{textwrap.fill(name, 22)}\n{_inertia(station)}"
            _label(ax, x, y - radius - 1.0, words, "center", "top")


def _inertia(station: Mapping[str, Any]) -> str:
    own = f"{number(station['inertia'])} kg m²"
    return own if station["speed_ratio"] == 1.0 else f"{own}\n(at the crank {number(referred(station))})"


def _label(ax: Axes, x: float, y: float, words: str, across: str, up: str) -> None:
    half = text_width(words, SMALL) / 2
    if across == "center":
        x = min(max(x, half + 1.0), PAPER - half - 1.0)
    ax.text(x, y, plain(words), ha=across, va=up, fontsize=SMALL, color=INK, linespacing=1.15, zorder=4)


def _short(name: str, letters: int) -> str:
    return name if len(name) <= letters else name[: letters - 3] + "..."


def _per_degree(stiffness: float) -> str:
    return number(stiffness * math.radians(1.0))


def _degrees(angle: float) -> str:
    return number(math.degrees(angle))
