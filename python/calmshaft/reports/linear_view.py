"""The linear view of a line in the report: modes, Holzer's tables, critical speeds, torque by order and together."""

from __future__ import annotations

import math
from collections.abc import Mapping

import numpy as np

from calmshaft.condition import Condition
from calmshaft.line import Line
from calmshaft.linear.critical import critical_speeds
from calmshaft.linear.holzer import HolzerTable, holzer
from calmshaft.linear.modal import Modes, modes
from calmshaft.linear.orders import LinearResponse, linear_response
from calmshaft.reports.parts import Part, Pictures, Points, Section, Table, Text, section
from calmshaft.runs import Run
from calmshaft.summary import mode_rows
from calmshaft.wording import number

SHOWN_ORDERS = (0.5, 1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 6.0, 8.0)
FEW_MODES = 4  # Holzer tables shown; the highest ones are of gear teeth and do not matter below them
SMALL = (
    "Small swings about the mean torque at idle: the plate's stage that carries it, teeth in contact, no dry friction. "
    "Free play, stages and parting teeth shift them."
)
AGREES = 1e-6  # [-] left at the end of a table: rounding of the eigenvalues


def free_vibration(line: Line, at: Condition) -> Section | None:
    """Natural frequencies and modes in words, and each mode's Holzer table."""
    found = modes(line, at)
    parts: list[Part] = [Text(SMALL), Table("Natural frequencies", mode_rows(found, line))]
    swinging = [int(mode) for mode in np.flatnonzero(found.angular_frequency > 0)][:FEW_MODES]
    parts += [part for mode in swinging for part in _holzer(found, mode)]
    return section("Natural frequencies and modes", *parts)


def _holzer(found: Modes, mode: int) -> list[Part]:
    table = holzer(found, mode)
    hertz = found.frequency_hz[mode]
    caption = f"Holzer's table of {table.words}, {hertz:.4g} Hz ({table.angular_frequency:.5g} rad/s)"
    return [Table(caption, holzer_rows(table)), Text(_rest_words(table))]


def holzer_rows(table: HolzerTable) -> list[list[str]]:
    """A row a station, all at the crank's speed, the largest angle 1."""
    rows = [
        ["station", "inertia [kg m^2]", "angle", "inertia torque [N m]", "sum [N m]", "stiffness [N m/rad]", "twist"]
    ]
    for row in table.rows:
        stiffness = "" if not row.joint else "rigid" if math.isinf(row.stiffness) else f"{row.stiffness:.4g}"
        numbers = (row.inertia_torque, row.total)
        rows.append(
            [
                row.station,
                f"{row.inertia:.4g}",
                f"{row.angle:.4f}",
                *(f"{one:.4g}" for one in numbers),
                stiffness,
                f"{row.twist:.4f}" if row.joint else "",
            ]
        )
    torque = max(abs(row.inertia_torque) for row in table.rows)
    if abs(table.rows[-1].total) < AGREES * torque:
        rows[-1][4] = "0"
    return rows


def _rest_words(table: HolzerTable) -> str:
    aside = "".join(f" With {name} aside, whose torque is in the row it hangs on." for name in table.branches)
    rest = f"The sum behind the last station is {table.residual:.0e} of the largest torque"
    word = (
        "nothing is left, as it must be at a natural frequency" if table.residual < AGREES else "it should be nothing"
    )
    return f"Referred to the crank's speed. {rest}: {word}.{aside}"


def critical(line: Line, at: Condition | None, picture: Pictures) -> Section | None:
    """Where an order of the engine meets a natural frequency between idle and rated speed.

    at: where the natural frequencies themselves are to be told as well, in one sentence.
    """
    parts = [Text(_frequency_words(modes(line, at)))] if at else []
    rows = [["what swings", "order", "critical speed [rpm]", "frequency [Hz]"]]
    for one in critical_speeds(line) if at is None else []:  # else the rings of the picture tell them
        rows.append([one.words, f"{one.order:g}", number(one.rpm), f"{one.frequency_hz:.1f}"])
    none = (
        ""
        if rows[1:] or at
        else "No order that the healthy engine excites meets a natural frequency in the running range."
    )
    heading = "Natural frequencies and critical speeds" if at else "Orders and critical speeds"
    return section(heading, *parts, Table("All cylinders firing, idle to rated speed", rows), Text(none), picture)


def _frequency_words(found: Modes) -> str:
    pairs = zip(found.frequency_hz, found.words, strict=True)
    return f"{'; '.join(f'{hertz:.4g} Hz: {words}' for hertz, words in pairs if hertz > 0)}. {SMALL}"


def by_order(line: Line, at: Condition, run: Run | None) -> list[Part]:
    """Torque by order in every joint and together, beside the integration in time; and where it misleads."""
    found = linear_response(line, at)
    joints = [name for name in found.joints if "shaft " not in name or name == _first_shaft(found)]
    rows = [["order", "engine [N m]", *(f"{name} [N m]" for name in joints)]]
    for order in SHOWN_ORDERS:
        index = int(2 * order) - 1
        swings = [abs(found.torque[index, found.joint(name)]) for name in joints]
        if max(abs(found.excitation[index]), *swings) > 0.05:
            rows.append([f"{order:g}", number(abs(found.excitation[index])), *(number(swing) for swing in swings)])
    together = [number(found.vibratory_torque[name]) for name in joints]
    rows.append(["together, half range", "", *together])
    if run is not None:
        rows.append(["integrated in time, half range", "", *(number(_vibratory(run, name)) for name in joints)])
    caption = (
        f"Linear answer by order at {number(at.rpm)} rpm{_who(at)}: amplitude, and the synthesis of orders 0.5 to 12"
    )
    if not found.misleading:
        return [Table(caption, rows), Text("Nothing that it leaves out is met: it holds here.")]
    misled = tuple(dict.fromkeys(f"{text[0].upper()}{text[1:]}." for text in found.misleading))
    return [Table(caption, rows), Text("Here the linear answer misleads:"), Points(misled)]


def _who(at: Condition) -> str:
    return "" if at.misfiring == "none" else f", misfiring {at.misfiring}"


def _first_shaft(found: LinearResponse) -> str:
    return next((name for name in found.joints if name.startswith("shaft")), "")


def _vibratory(run: Run, name: str) -> float:
    from calmshaft import signals

    if run.signals is None or name not in run.signals["coupling"].values:
        return math.nan
    return float(signals.orders(run, "torque", name)["vibratory"])


def excitation(line: Line, conditions: Mapping[str, Condition]) -> Table:
    """Gas and inertia torque on the crank by order at some conditions."""
    found = {words: linear_response(line, at).excitation for words, at in conditions.items()}
    rows = [["order", *(f"{words} [N m]" for words in found)]]
    for order in SHOWN_ORDERS:
        swings = [abs(torque[int(2 * order) - 1]) for torque in found.values()]
        if max(swings) > 0.05:
            rows.append([f"{order:g}", *(number(swing) for swing in swings)])
    return Table("What the engine excites: amplitude of gas and inertia torque by order", rows)
