"""A spring plate from the front: cover, hub, windows and the springs in them, to one scale."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator

import numpy as np
from matplotlib.axes import Axes
from matplotlib.patches import Circle, Polygon

from calmshaft.plots.style import COOL, INK, OCHRE, PALE, PLUM, WARM, axes_or_new, plain
from calmshaft.workshop.plate_twist import PlateSprings, SpringGroup

LETTERS = "ABCDEF"
COLOURS = (COOL, PLUM, OCHRE, WARM, INK, COOL)
_TOO_NEAR = 0.9  # of the mean coil diameter: circles nearer than this share their windows' places
_RIM = 0.35  # of a coil beyond the outermost one; the plate's own size is not measured


def plate_front(springs: PlateSprings, ax: Axes | None = None) -> Axes:
    """The plate at rest, seen from the gearbox; lengths in mm.

    Full line: the window that holds a spring; broken line: as far as the hub leaves room on either side before it
    touches. Places round the circle are even; how a maker spaces them was not measured. The outline is a guess.
    """
    ax = axes_or_new(ax, (5.2, 5.2))
    rim = 1e3 * max(g.pitch_radius + (0.5 + _RIM) * g.spring.coil_outer_diameter for g in springs.groups)
    bore = 1e3 * min(g.pitch_radius - g.spring.coil_outer_diameter for g in springs.groups)
    ax.add_patch(Circle((0, 0), rim, facecolor="#f3f1ea", edgecolor=INK, linewidth=1.4))
    if bore > 4:
        _draw_hub(ax, min(0.62 * bore, 30.0))
    for number, group, angle in places(springs):
        _draw_window(ax, group, angle, outer=group.inside is None)
        _draw_spring(ax, group, angle, COLOURS[number])
        if group.inside is None or group.working == 0:
            _letter(ax, springs, number, angle)
    ax.set_xlim(-1.06 * rim, 1.06 * rim)
    ax.set_ylim(-1.06 * rim, 1.06 * rim)
    ax.set_aspect("equal")
    ax.set_axis_off()
    return ax


def places(springs: PlateSprings) -> Iterator[tuple[int, SpringGroup, float]]:
    """Number of the group, group and angle [rad] of every spring; a nested spring lies where its outer one does."""
    groups = springs.groups
    rings: list[list[int]] = []
    for number, group in enumerate(groups):
        if group.inside is None:
            ring = next((ring for ring in rings if _same_ring(groups[ring[0]], group)), None)
            if ring is None:
                rings.append([number])
            else:
                ring.append(number)
    found: dict[str, list[float]] = {}
    for ring in rings:
        wanted = sorted((k / groups[n].count + 1e-3 * i, n) for i, n in enumerate(ring) for k in range(groups[n].count))
        for slot, (_, number) in enumerate(wanted):
            angle = math.pi / 2 - math.tau * slot / len(wanted)
            found.setdefault(groups[number].name, []).append(angle)
            yield number, groups[number], angle
    used: Counter[str] = Counter()  # by entry: springs of a mixed one lie in windows one after the other
    for number, group in enumerate(groups):
        if group.inside is not None:
            first = used[group.name]
            used[group.name] += group.count
            for angle in found.get(group.inside, [])[first : first + group.count]:
                yield number, group, angle


def _same_ring(one: SpringGroup, other: SpringGroup) -> bool:
    room = _TOO_NEAR * (one.spring.coil_outer_diameter + other.spring.coil_outer_diameter) / 2
    return abs(one.pitch_radius - other.pitch_radius) < room


def _on_plate(group: SpringGroup, angle: float, along: np.ndarray, across: np.ndarray) -> np.ndarray:
    """Points [mm] of a spring's own frame: along its axis, across outwards."""
    radial, tangent = np.array([math.cos(angle), math.sin(angle)]), np.array([math.sin(angle), -math.cos(angle)])
    return 1e3 * (np.outer(along, tangent) + np.outer(group.pitch_radius + across, radial))


def _draw_window(ax: Axes, group: SpringGroup, angle: float, outer: bool) -> None:
    length, width = _length(group), 1.08 * group.spring.coil_outer_diameter
    if outer:
        window = group.window_length or length
        corners = _on_plate(group, angle, window / 2 * np.array([-1, 1, 1, -1]), width / 2 * np.array([-1, -1, 1, 1]))
        ax.add_patch(Polygon(corners, facecolor="white", edgecolor=INK, linewidth=1.0))
    ends = np.array([-length / 2 - group.coast.gap, length / 2 + group.drive.gap])
    if outer and max(group.coast.gap, group.drive.gap) > 0:
        for end in ends:
            edge = _on_plate(group, angle, np.array([end, end]), width * np.array([-0.42, 0.42]))
            ax.plot(*edge.T, color=WARM, linewidth=1.3, linestyle=(0, (3, 1.5)))


def _length(group: SpringGroup) -> float:
    """As it sits in its window [m]."""
    return group.spring.free_length - max(group.drive.preload, 0.0)


def _draw_spring(ax: Axes, group: SpringGroup, angle: float, colour: str) -> None:
    length, spring = _length(group), group.spring
    half = spring.mean_diameter / 2
    if not group.working:
        for sign in (1, -1):
            cross = _on_plate(group, angle, length / 2 * np.array([-1, 1]), sign * half * np.array([-1, 1]))
            ax.plot(*cross.T, color=WARM, linewidth=1.2)
        return
    turns = round(2 * spring.coils + 2)
    along = np.linspace(-length / 2 + spring.wire_diameter / 2, length / 2 - spring.wire_diameter / 2, turns)
    coil = _on_plate(group, angle, along, half * (-1.0) ** np.arange(turns))
    style = {"good": "-", "loose": "-"}.get(group.condition, (0, (3, 1)))
    ax.plot(*coil.T, color=colour, linewidth=1.2 if group.inside else 2.0, linestyle=style, solid_joinstyle="round")


def _letter(ax: Axes, springs: PlateSprings, number: int, angle: float) -> None:
    """The letters of a window: its own and those of the springs inside."""
    group = springs.groups[number]
    inner = [LETTERS[n] for n, other in enumerate(springs.groups) if other.inside == group.name]
    text = "+".join([LETTERS[number], *inner])
    x, y = 1e3 * group.pitch_radius * math.cos(angle), 1e3 * group.pitch_radius * math.sin(angle)
    ground = {"facecolor": "white", "edgecolor": INK, "linewidth": 0.5, "boxstyle": "round,pad=0.2"}
    ax.annotate(text, (x, y), ha="center", va="center", fontsize=8, color=INK, bbox=ground, zorder=5)


def _draw_hub(ax: Axes, radius: float) -> None:
    """A splined hub; its size was not measured."""
    turn = np.linspace(0, math.tau, 481)
    teeth = radius * np.where((turn * 20 / math.tau) % 1 < 0.5, 0.72, 0.62)
    ax.add_patch(Circle((0, 0), radius, facecolor=PALE, edgecolor=INK, linewidth=1.2))
    ax.add_patch(
        Polygon(np.column_stack([teeth * np.cos(turn), teeth * np.sin(turn)]), facecolor="white", edgecolor=INK)
    )


def legend_words(springs: PlateSprings) -> list[str]:
    """One line a group: "A soft springs: 3, wire 3.2 mm, coil 22 mm, 7.5 coils, 27.7 N/mm each"."""
    return [
        plain(
            f"{LETTERS[number]}  {group.name}: {group.count}"
            + (f", {group.condition}" if group.condition != "good" else "")
            + f"; wire {1e3 * group.spring.wire_diameter:.3g}, coil {1e3 * group.spring.coil_outer_diameter:.3g} mm, "
            f"{group.spring.rate / 1e3:.3g} N/mm each"
        )
        for number, group in enumerate(springs.groups)
    ]
