"""A maker's mass-elastic table by itself, crank throws and all, as a chain for the linear questions."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from calmshaft.build_line import values_of
from calmshaft.build_table import Joint, Table, read
from calmshaft.faults import Fault, line_error
from calmshaft.line_file import Source
from calmshaft.line_file import read as read_file
from calmshaft.linear.chains import Chain, chain

_ROOT = "mass_elastic"


def load_chain(path: str | Path) -> Chain:
    """The chain of the mass-elastic table in a file; other sections are not looked at. Raises LineError.

    Here the crank is as flexible as the table says, and no mass is summed into another; a row that only says where
    a part of the line stands has no inertia and is refused.
    """
    return chain_of(*read_file(path))


def chain_of(document: dict[str, Any], source: Source | None = None) -> Chain:
    """The chain of the table in a document. Raises LineError with all faults."""
    where = (source or Source("")).where
    values, faults = values_of({_ROOT: document.get(_ROOT, {})})
    table = read(values)
    faults = [*faults, *(fault for fault in table.faults if fault.path not in {one.path for one in faults})]
    if not faults and not table.rows:
        faults = [Fault(_ROOT, "", "is missing", "write [[mass_elastic.masses]] and [[mass_elastic.connections]]")]
    order, joints = _in_order(table) if not faults else ([], [])
    faults += [] if faults else _cannot_chain(table, order)
    if faults:
        raise line_error(faults, where)
    return chain(
        inertias=[table.rows[index].inertia for index in order],
        stiffnesses=[joint.stiffness for joint in joints],
        dampings=[joint.damping for joint in joints],
        speed_ratios=[table.speed_ratio[index] / table.speed_ratio[order[0]] for index in order],
        names=[table.rows[index].name for index in order],
    )


def _in_order(table: Table) -> tuple[list[int], list[Joint]]:
    """Rows and joints from one end, the one that stands first in the file."""
    degree = {index: sum(index in joint.ends for joint in table.joints) for index in table.rows}
    here = next((index for index in table.rows if degree[index] <= 1), next(iter(table.rows)))
    order, joints, left = [here], [], list(table.joints)
    while step := next((joint for joint in left if here in joint.ends), None):
        left.remove(step)
        here = step.ends[step.ends[0] == here]
        order.append(here)
        joints.append(step)
    return order, joints


def _cannot_chain(table: Table, order: list[int]) -> list[Fault]:
    """Rows that one way from end to end does not reach: branches, and what hangs on nothing."""
    return [
        Fault(f"{_ROOT}.masses[{index}].name", row.name, "does not stand in one row with the others",
              "view a branched table as a line: give it an [engine]")
        for index, row in table.rows.items()
        if index not in order
    ]  # fmt: skip
