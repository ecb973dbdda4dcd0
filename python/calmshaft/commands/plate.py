"""`plate`: one plate by itself - rates, curve, corners, what stops it, what its springs carry - and its picture."""

from __future__ import annotations

import math
from functools import partial
from pathlib import Path
from typing import Any

from calmshaft import units
from calmshaft.commands.common import CAUTION, Exit, all_of, exit_for, say, say_json, tell
from calmshaft.commands.plate_joint import greatest, joint_lines, pocket_text
from calmshaft.faults import said
from calmshaft.judgement import Judgement
from calmshaft.judgement.joint import judge_joint
from calmshaft.line import LINES, load_plate, sample_lines, sample_plates
from calmshaft.line_file import read
from calmshaft.output import write_figure
from calmshaft.page_text import text_table
from calmshaft.places import into_folder, name_of
from calmshaft.wording import number
from calmshaft.workshop.plate_by_itself import PlateAlone, plate_alone
from calmshaft.workshop.plate_measured import preload_words
from calmshaft.workshop.springs import WireStrength

SIDES = ("drive", "coast")
DEGREE = math.pi / 180


def plate(name: str, out: Path | None, as_json: bool) -> Exit:
    """Print a plate, with `out` also draw it. Raises LineError with every fault."""
    found, _ = all_of(partial(plate_named, name), partial(into_folder, out))
    judged = (*judge_bind(found), *judge_joint(found.joint, *greatest(found)))
    for fault in found.warnings:
        tell(f"note: {said(fault)}")
    if as_json:
        say_json(_document(found, judged))
    else:
        _say(found)
        for one in judged:
            say(f"  {one.word:10}  {one.subject}: {one.finding}")
        say(f"\n{CAUTION}")
    if out is not None:
        from calmshaft.plots.plate_sheet import plate_sheet

        tell(f"written: {write_figure(plate_sheet(found), out / f'{_file(name)}.png')}")
    return exit_for(judged, "periodic")


def _file(name: str) -> str:
    stem = Path(name).stem
    return name_of(stem) if "plate" in stem else name_of(stem, "plate")


def plate_named(name: str) -> PlateAlone:
    """The plate of a plate file, of a line file, or of a shipped one. Raises LineError."""
    shipped = name in (*sample_lines(), *sample_plates()) and not Path(name).exists()
    path = LINES / f"{name}.toml" if shipped else Path(name)
    plate = load_plate(path)
    return plate_alone(plate, read(path)[1].where)


def judge_bind(found: PlateAlone) -> tuple[Judgement, ...]:
    """Whether springs go solid before the hub stops; nothing to say of a plate given by its stages."""
    if found.springs is None:
        return ()
    side = min(SIDES, key=lambda side: found.springs.bind_angle(side) - found.stop(side))
    bind, hub = found.springs.bind_angle(side), found.springs.stops[SIDES.index(side)]
    words = f"the coils of {found.springs.first_solid(side).label} touch at {_deg(bind)} in {side}"
    if not math.isfinite(hub):
        finding = f"{words}; where the hub stops was not measured, so the plate is taken to stop there"
        return (Judgement("coil bind", "not judged", finding, bind, unit="rad", matters=False),)
    word = "over" if bind <= hub else "within"
    return (Judgement("coil bind", word, f"{words}, the hub stops at {_deg(hub)}", hub, bind, "rad"),)


def _deg(angle: float) -> str:
    return units.show(angle, "angle")


def _say(found: PlateAlone) -> None:
    say(found.title)
    if found.springs:
        say("\nSprings, each")
        say(text_table(_spring_rows(found)))
        for group in found.springs.groups:
            for words in dict.fromkeys(preload_words(group)):
                say(f"  {words}")
    for side in SIDES if _differs(found) else SIDES[:1]:
        say(f"\nCurve{f', {side}' if _differs(found) else ', drive and coast alike'}: from the middle of the free play")
        say(text_table(_curve_rows(found, side)))
    if found.springs:
        say("\nOne spring where the plate is stopped, drive")
        say(text_table(_load_rows(found)))
    say()
    for words in [*_whole(found), *joint_lines(found)]:
        say(f"  {words}")


def _differs(found: PlateAlone) -> bool:
    sides = [[(round(abs(c.twist), 9), c.words) for c in found.corners(side)] for side in SIDES]
    return sides[0] != sides[1]


def _spring_rows(found: PlateAlone) -> list[list[str]]:
    assert found.springs is not None
    rows = [["springs", "count", "rate [N/mm]", "coils", "D/d", "solid [mm]", "all, about the shaft [N m/deg]",
             "touched [deg]", "solid at [deg]", "surge [Hz]"]]  # fmt: skip
    for group in found.springs.groups:
        spring = group.spring
        angles = (found.springs.contact_angle(group, "drive"), found.springs.solid_angle(group, "drive"))
        rows.append([group.label, str(group.count), number(spring.rate / 1e3), number(spring.coils),
                     number(spring.index), number(1e3 * spring.solid_length), number(group.stiffness * DEGREE),
                     *(number(angle / DEGREE) for angle in angles), number(spring.surge_frequency)])  # fmt: skip
    return rows


def _curve_rows(found: PlateAlone, side: str) -> list[list[str]]:
    """Every corner with the slope behind it; a preload's steep step is part of its corner."""
    rows = [["at [deg]", "torque [N m]", "slope from here [N m/deg]", "what happens"]]
    corners = found.corners(side)
    for corner, following in zip(corners, [*corners[1:], None], strict=True):
        end = abs(following.twist) if following else math.inf
        slope = "" if corner is corners[-1] and math.isfinite(found.stop(side)) else _slope(found, side, end)
        rows.append([number(abs(corner.twist) / DEGREE), number(abs(corner.torque)), slope, corner.words])
    return rows


def _slope(found: PlateAlone, side: str, end: float) -> str:
    """Of the stage that ends at `end` or runs through it [N m/deg]."""
    stages = getattr(found.core, side).stages
    stage = next((stage for stage in stages if stage.until >= end - 1e-7), stages[-1])
    return number(stage.stiffness * DEGREE)


def _load_rows(found: PlateAlone) -> list[list[str]]:
    assert found.springs is not None
    rows = [["springs", "force [N]", "squeezed [mm]", "shear stress [MPa]", "of its tensile strength when new"]]
    if found.pockets:
        rows[0].append("on the pocket's edges [MPa], not judged")
    stop = found.springs.stop("drive")
    for group, load in zip(found.springs.groups, found.springs.at(stop), strict=True):
        strength = group.spring.strength
        share = "material not known" if strength is None else _share(load.shear_stress, strength)
        rows.append(
            [group.label, number(load.force), number(1e3 * load.compression), number(load.shear_stress / 1e6), share]
        )
        if found.pockets:
            rows[-1].append(pocket_text(found.pockets, group, load))
    return rows


def _share(stress: float, strength: WireStrength) -> str:
    return f"{100 * stress / strength.value:.0f} % of {strength.value / 1e6:.0f} MPa ({strength.table} table)"


def _whole(found: PlateAlone) -> list[str]:
    play = f"Free play {_deg(found.core.free_play)}, whole width"
    if found.springs and not found.springs.lash:
        play += ": the gaps of the springs alone; rock the hub with a dial gauge to have the lash of the spline as well"
    friction = found.core.hysteresis_full_width
    words = [f"{play}.", f"Friction {number(friction)} N m between winding up and unwinding." if friction >= 0 else
             "Friction is not known."]  # fmt: skip
    stop = found.stop("drive")
    if not math.isfinite(stop):
        return [*words, "The stop was not measured: how much torque the plate carries is not known."]
    torque = found.torque(stop)
    words.append(f"Stopped in drive at {_deg(stop)}; the springs carry {number(torque)} N m there.")
    if found.core.rated_torque:
        times = torque / found.core.rated_torque
        words.append(f"Its maker states {number(found.core.rated_torque)} N m: the stop is at {times:.2f} times that.")
    else:
        words.append(f"Springs carry 1.2 to 2 times the engine's torque before the stop (trade, no source): "
                     f"an engine of {number(torque / 2)} to {number(torque / 1.2)} N m.")  # fmt: skip
    if slope := found.quantities.get("plate.stages[0].stiffness"):
        words.append(f"A slope by these measurements is sure within {100 * (slope.high / slope.value - 1):.0f} %.")
    return words


def _document(found: PlateAlone, judged: tuple[Judgement, ...]) -> dict[str, Any]:
    """SI values."""
    sides = {
        side: {
            "stop_angle": found.stop(side),
            "stages": [{"stiffness": s.stiffness, "until": s.until} for s in getattr(found.core, side).stages],
            "corners": [{"twist": c.twist, "torque": c.torque, "words": c.words} for c in found.corners(side)],
        }
        for side in SIDES
    }
    return {
        "title": found.title,
        "free_play": found.core.free_play,
        "hysteresis_full_width": found.core.hysteresis_full_width,
        "rated_torque": found.core.rated_torque,
        **sides,
        "springs": _springs(found),
        "judgement": [one.as_dict() for one in judged],
        "caution": CAUTION,
    }


def _springs(found: PlateAlone) -> list[dict[str, Any]]:
    if found.springs is None:
        return []
    loads = found.springs.at(found.springs.stop("drive"))
    return [
        {"name": group.name, "count": group.count, "rate": group.spring.rate, "stiffness": group.stiffness,
         "solid_angle": found.springs.solid_angle(group, "drive"), "force_at_stop": load.force,
         "shear_stress_at_stop": load.shear_stress}
        for group, load in zip(found.springs.groups, loads, strict=True)
    ]  # fmt: skip
