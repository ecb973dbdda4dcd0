"""A maker's mass-elastic table in a line file: which rows are stations of the line, which hang on them, what turns how.

A row that is a station of the line gives its inertia to that part. Rows with a cylinder, and what lies between them
and the flywheel, are the crank: it is rigid here, so their inertias are summed.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, MutableMapping
from dataclasses import dataclass, field
from typing import Any

from calmshaft import _core
from calmshaft.faults import Fault
from calmshaft.schema_paths import split

_ROOT = "mass_elastic"
_STATIONS = {
    "flywheel": (_core.PartStation.crank, "flywheel.inertia"),
    "gearbox input": (_core.PartStation.gearbox_input, "gearbox.input_inertia"),
    "gearbox output": (_core.PartStation.gearbox_output, "gearbox.ahead.output_inertia"),
    "propeller": (_core.PartStation.propeller, "propeller.inertia"),
}
_RATIO = "gearbox.ahead.ratio"
_SAME_SPEED = 1e-6  # of a ratio: written with six digits


@dataclass(frozen=True)
class Row:
    """One mass as written. inertia is NaN where the row only says where a part's station is."""

    index: int
    name: str
    inertia: float
    shaft: str | None
    part: str | None
    cylinder: int | None


@dataclass(frozen=True)
class Joint:
    """One connection as written; ends are rows. stiffness is None for a gear pair."""

    index: int
    ends: tuple[int, int]
    stiffness: float | None
    damping: float


@dataclass
class Table:
    """A table as read: rows by their place in the file, joints, what is wrong, and own speed over the crank's."""

    rows: dict[int, Row] = field(default_factory=dict)
    joints: list[Joint] = field(default_factory=list)
    faults: list[Fault] = field(default_factory=list)
    speed_ratio: dict[int, float] = field(default_factory=dict)
    guessed: set[int] = field(default_factory=set)  # rows that nothing says the speed of
    crank: set[int] = field(default_factory=set)  # rows that the rigid crank takes in, the flywheel with them

    def station(self, part: str) -> Row | None:
        """The row that is a station of the line."""
        return next((row for row in self.rows.values() if row.part == part), None)

    def joins(self, one: str, other: str) -> bool:
        """Whether connections alone lead from one station of the line to another."""
        start, goal = self.station(one), self.station(other)
        return bool(start and goal and goal.index in self.reach(start.index, self.joints))

    def reach(self, start: int, joints: list[Joint]) -> dict[int, int]:
        """Every row that joints lead to, with the row before it on the way (its own index for the start)."""
        way, waiting = {start: start}, [start]
        while waiting:
            here = waiting.pop()
            for one, other in (ends for joint in joints for ends in (joint.ends, joint.ends[::-1])):
                if one == here and other not in way:
                    way[other] = here
                    waiting.append(other)
        return way

    def parts(self) -> set[str]:
        """Sections of the file that need not be there beside this table."""
        plate = {"plate"} if self.joins("flywheel", "gearbox input") else set()
        return plate | ({"propeller"} if self.station("propeller") else set())

    def core(self) -> _core.MassElasticTable:
        """The table as the compiled library takes it: without the crank's rows, but for the flywheel."""
        masses = [
            _core.TableMass(
                name=row.name,
                part=_STATIONS[row.part][0] if row.part else _core.PartStation.none,
                inertia=0.0 if row.part else row.inertia,
                speed_ratio=self.speed_ratio[index],
            )
            for index, row in self._kept()
        ]
        place = {index: number for number, (index, _) in enumerate(self._kept())}
        flywheel = self.station("flywheel")
        place |= dict.fromkeys(self.crank, place[flywheel.index] if flywheel else 0)
        connections = [
            _core.TableConnection(
                from_row=place[joint.ends[0]],
                to_row=place[joint.ends[1]],
                stiffness=math.inf if joint.stiffness is None else joint.stiffness,
                damping=joint.damping,
            )
            for joint in self.kept_joints()
        ]
        return _core.MassElasticTable(masses=masses, connections=connections)

    def _kept(self) -> list[tuple[int, Row]]:
        return [(i, row) for i, row in self.rows.items() if i not in self.crank or row.part == "flywheel"]

    def kept_joints(self) -> list[Joint]:
        """All but those inside the crank, and the gear pair that is the gearbox's own mesh."""
        mesh = {row.index for part in ("gearbox input", "gearbox output") if (row := self.station(part))}
        inside = [joint for joint in self.joints if set(joint.ends) <= self.crank]
        own = [joint for joint in self.joints if joint.stiffness is None and set(joint.ends) == mesh]
        return [joint for joint in self.joints if joint not in inside and joint not in own]

    def in_file(self, fault: Fault) -> Fault:
        """A fault of the compiled checks, on the row of the file."""
        steps = split(fault.path)
        if steps[:1] != (_ROOT,) or len(steps) < 4:
            return fault
        kind, number = str(steps[1]), int(steps[2])
        listed = [i for i, _ in self._kept()] if kind == "masses" else [j.index for j in self.kept_joints()]
        path = fault.path.replace(f"[{number}]", f"[{listed[number]}]", 1)
        return Fault(path, fault.value, fault.rule, fault.advice, fault.warning)


def read(values: MutableMapping[str, Any]) -> Table:
    """The table of a file, its inertias written into the parts that its rows are. Faults are in the result."""
    table = Table(rows={index: _row(values, index) for index in _indices(values, "masses")})
    table.faults += _unclear_masses(table)
    table.joints = list(_joints(values, table))
    table.faults += _rings(table)
    table.faults += _give_inertias(values, table)
    table.faults += _find_crank(values, table)
    if table.joins("flywheel", "gearbox input"):
        values.setdefault("plate.hub_inertia", 0.0)  # the maker's row is the whole driven side
    table.faults += _find_speeds(values, table)
    table.faults += _missing_stiffness(table)
    return table


def _indices(values: Mapping[str, Any], name: str) -> list[int]:
    stem = f"{_ROOT}.{name}["
    return sorted({int(split(path)[2]) for path in values if path.startswith(stem)})


def _row(values: Mapping[str, Any], index: int) -> Row:
    def of(key: str) -> Any:
        return values.get(f"{_ROOT}.masses[{index}].{key}")

    name = of("name") or ""
    inertia = math.nan if of("inertia") is None else float(of("inertia"))
    return Row(index, name, inertia, of("shaft"), of("part") or (name if name in _STATIONS else None), of("cylinder"))


def _unclear_masses(table: Table) -> Iterator[Fault]:
    seen: set[str] = set()
    for index, row in table.rows.items():
        if not row.name:
            yield Fault(f"{_ROOT}.masses[{index}].name", "", "is missing", "write what the maker calls this mass")
        elif row.name in seen:
            yield Fault(f"{_ROOT}.masses[{index}].name", row.name, "stands twice", "give every mass a name of its own")
        seen.add(row.name)
        if math.isnan(row.inertia) and not row.part:
            advice = 'write e.g. "0.12 kg*m^2"; "0 kg*m^2" for a gear whose weight is in its neighbour'
            yield Fault(f"{_ROOT}.masses[{index}].inertia", "", "is missing", advice)


def _joints(values: Mapping[str, Any], table: Table) -> Iterator[Joint]:
    names = {row.name: row.index for row in table.rows.values() if row.name}
    for index in _indices(values, "connections"):
        path = f"{_ROOT}.connections[{index}]"
        ends = []
        for end in ("from", "to"):
            written = values.get(f"{path}.{end}")
            if written in names:
                ends.append(names[written])
            else:
                table.faults.append(_no_such_mass(f"{path}.{end}", written, list(names)))
        if len(ends) == 2:
            damping = float(values.get(f"{path}.damping", 0.0))
            yield Joint(index, (ends[0], ends[1]), values.get(f"{path}.stiffness"), damping)


def _rings(table: Table) -> Iterator[Fault]:
    """Joints that come back to a mass already reached; they are left out, so that paths are what they seem."""
    tree: list[Joint] = []
    for joint in table.joints:
        if joint.ends[1] in table.reach(joint.ends[0], tree):
            path, name = f"{_ROOT}.connections[{joint.index}].to", table.rows[joint.ends[1]].name
            yield Fault(path, name, "closes a ring", "add parallel springs into one; a line branches only")
        else:
            tree.append(joint)
    table.joints = tree


def _no_such_mass(path: str, written: Any, names: list[str]) -> Fault:
    if written is None:
        return Fault(path, "", "is missing", "write the name of a mass")
    near = _core.near_matches(written, names) or names
    advice = f"write {' or '.join(near)}" if near else "write [[mass_elastic.masses]] first"
    return Fault(path, f'"{written}"', "is not a mass of this table", advice)


def _give_inertias(values: MutableMapping[str, Any], table: Table) -> Iterator[Fault]:
    """A row's inertia takes the place of the part's; a propeller's in a table has its water in it."""
    for part, (_, key) in _STATIONS.items():
        row = table.station(part)
        if row is None or math.isnan(row.inertia):
            continue
        if key in values:
            advice = "leave out one of the two"
            yield Fault(f"{_ROOT}.masses[{row.index}].inertia", row.name, f"says the same as {key}", advice)
            continue
        values[key] = row.inertia
        if part == "propeller":
            values["propeller.water_inertia"] = 0.0
        if part == "gearbox output" and "gearbox.astern.ratio" in values:
            values.setdefault("gearbox.astern.output_inertia", row.inertia)


def _find_crank(values: Mapping[str, Any], table: Table) -> Iterator[Fault]:
    flywheel = table.station("flywheel")
    throws = [row.index for row in table.rows.values() if row.cylinder is not None]
    if not throws:
        return
    where = f"{_ROOT}.masses[{throws[0]}].cylinder"
    cylinders = values.get("engine.cylinders", 0)
    for row in table.rows.values():
        if row.cylinder is not None and cylinders and row.cylinder > cylinders:
            path, rule = f"{_ROOT}.masses[{row.index}].cylinder", f"the engine has cylinders 1 to {cylinders}"
            yield Fault(path, str(row.cylinder), rule, "write the number of its throw")
    if "engine.crank_inertia" in values:
        yield Fault(where, "", "says the same as engine.crank_inertia", "leave out one of the two")
    if flywheel is None:
        advice = 'write part = "flywheel" on the row that is the flywheel'
        yield Fault(where, "", "needs a flywheel in the table", advice)
        return
    way = table.reach(flywheel.index, table.joints)
    table.crank = {flywheel.index}
    for here in (row for row in throws if row in way):
        while here not in table.crank:
            table.crank.add(here)
            here = way[here]


def crank_inertia(table: Table, pistons_and_rods: float) -> float | None:
    """The crank's own inertia [kg m^2]: its rows without the mean of pistons and rods, which move exactly here."""
    rows = [table.rows[index] for index in table.crank if table.rows[index].part != "flywheel"]
    return sum(row.inertia for row in rows) - pistons_and_rods if rows else None


def _find_speeds(values: MutableMapping[str, Any], table: Table) -> Iterator[Fault]:
    """By the row's shaft, else by the part it is, else as the mass it hangs on by a spring; else with the crank."""
    shafts = {values.get(f"{_ROOT}.shafts[{i}].name"): values.get(f"{_ROOT}.shafts[{i}].speed_ratio", 1.0)
              for i in _indices(values, "shafts")}  # fmt: skip
    stated = values.get(_RATIO)
    for index, row in table.rows.items():
        if row.shaft is not None and row.shaft not in shafts:
            near = _core.near_matches(row.shaft, [str(name) for name in shafts]) or [str(name) for name in shafts]
            advice = f"write {' or '.join(near)}" if near else "write [[mass_elastic.shafts]] with name and speed_ratio"
            yield Fault(f"{_ROOT}.masses[{index}].shaft", f'"{row.shaft}"', "is not a shaft of this table", advice)
        elif row.shaft is not None:
            table.speed_ratio[index] = float(shafts[row.shaft])
        elif row.part in ("flywheel", "gearbox input"):
            table.speed_ratio[index] = 1.0
        elif row.part and stated:
            table.speed_ratio[index] = 1.0 / stated
    springs = [joint for joint in table.joints if joint.stiffness is not None]
    for index in list(table.speed_ratio):
        for reached in table.reach(index, springs):
            table.speed_ratio.setdefault(reached, table.speed_ratio[index])
    table.guessed = set(table.rows) - set(table.speed_ratio)
    table.speed_ratio |= dict.fromkeys(table.guessed, 1.0)
    yield from _find_ratio(values, table)


def _find_ratio(values: MutableMapping[str, Any], table: Table) -> Iterator[Fault]:
    """The gearbox's ratio, where the table's shafts tell it."""
    output = table.station("gearbox output")
    if output is None or output.shaft is None or not table.speed_ratio.get(output.index):
        return
    ratio = 1.0 / table.speed_ratio[output.index]
    stated = values.setdefault(_RATIO, ratio)
    if abs(stated - ratio) > _SAME_SPEED * abs(ratio):
        rule = f"does not fit the table's shafts, which say {ratio:.6g}"
        yield Fault(_RATIO, f"{stated:.6g}", rule, "count input turns for one output turn")


def _missing_stiffness(table: Table) -> Iterator[Fault]:
    for joint in table.joints:
        one, other = (table.speed_ratio[end] for end in joint.ends)
        same = math.isclose(one, other, rel_tol=_SAME_SPEED) or table.guessed & set(joint.ends)
        if joint.stiffness is None and same and not set(joint.ends) <= table.crank:
            advice = "write the maker's value; only a gear pair, between shafts of different speed, goes without"
            yield Fault(f"{_ROOT}.connections[{joint.index}].stiffness", "", "is missing", advice)
