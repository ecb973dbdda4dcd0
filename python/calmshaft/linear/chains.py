"""Chains: discs on shafts, one after the other, for teaching and for a textbook's numbers."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from numbers import Integral, Real
from typing import Any

from calmshaft import _core
from calmshaft.linear.matrices import Matrices, matrices


@dataclass(frozen=True)
class Chain:
    """An immutable chain of stations (SI); joint i lies between stations i and i + 1. Made by `chain()`.

    names: of the stations. inertias [kg m^2]. stiffnesses [N m/rad], None at a gear pair. dampings [N m s/rad].
    speed_ratios: own speed over the first station's [-]. ground_stiffnesses [N m/rad] and ground_dampings
    [N m s/rad] hold each station to the ground. fixed: numbers of the stations held still.
    """

    names: tuple[str, ...]
    inertias: tuple[float, ...]
    stiffnesses: tuple[float | None, ...]
    dampings: tuple[float, ...] = ()
    speed_ratios: tuple[float, ...] = ()
    ground_stiffnesses: tuple[float, ...] = ()
    ground_dampings: tuple[float, ...] = ()
    fixed: tuple[int, ...] = field(default=())

    def matrices(self) -> Matrices:
        """Inertia, damping and stiffness of the free coordinates."""
        return matrices(core_line(self))


@lru_cache(maxsize=256)
def core_line(one: Chain) -> _core.LinearLine:
    """The chain as the compiled library takes it."""
    return _core.linear_line(_core.Chain(**vars(one)))


def chain(
    inertias: Sequence[float],
    stiffnesses: Sequence[float | None],
    dampings: Sequence[float | None] | None = None,
    speed_ratios: Sequence[float] | None = None,
    ground_stiffnesses: Sequence[float | None] | None = None,
    ground_dampings: Sequence[float | None] | None = None,
    fixed: Iterable[int | str] = (),
    names: Sequence[str] | None = None,
) -> Chain:
    """A chain of discs, springs and rigid gears, in SI.

    inertias [kg m^2] (station,), 0 for a massless gear. stiffnesses [N m/rad] (joint,): joint i is a spring between
    stations i and i + 1 of one shaft; where speed_ratios (own speed over the first station's, negative backwards)
    change, it is a rigid gear pair and its entry is None. dampings [N m s/rad] (joint,), beside the springs; a joint
    may be a damper alone, with stiffness 0. ground_stiffnesses
    [N m/rad] and ground_dampings [N m s/rad] (station,). fixed: numbers or names of stations held still.
    Every value stands in its own shaft's frame. Raises LineError with all faults.

        cs.chain([0.5, 0.1], [1000.0])                                                    # two discs
        cs.chain([2.0, 0.0, 0.0, 8.0], [40000.0, None, 90000.0], speed_ratios=[1.0, 1.0, 0.5, 0.5])
    """
    reader = _Reader()
    masses = reader.numbers("inertias", inertias)
    labels = reader.texts("names", names, len(masses))
    made = Chain(
        names=labels,
        inertias=masses,
        stiffnesses=reader.numbers("stiffnesses", stiffnesses, may_be_none=True, stand_in=1.0),
        dampings=reader.numbers("dampings", dampings, none=0.0),
        speed_ratios=reader.numbers("speed_ratios", speed_ratios, stand_in=1.0),
        ground_stiffnesses=reader.numbers("ground_stiffnesses", ground_stiffnesses, none=0.0),
        ground_dampings=reader.numbers("ground_dampings", ground_dampings, none=0.0),
        fixed=reader.stations("fixed", fixed, labels),
    )
    bad = {fault.path for fault in reader.faults}
    found = [fault for fault in _core.check_chain(_core.Chain(**vars(made))) if fault.path not in bad]
    if reader.faults or found:
        _core.raise_line_error([*reader.faults, *found])
    return made


class _Reader:
    """Lists as the compiled library takes them; what cannot be read becomes a fault and a stand-in."""

    def __init__(self) -> None:
        self.faults: list[_core.Fault] = []

    def fault(self, path: str, value: object, rule: str, advice: str) -> None:
        self.faults.append(_core.Fault(path, repr(value), rule, advice))

    def items(self, path: str, values: Any) -> list[Any]:
        """The items of a list; None is an empty one."""
        if values is None:
            return []
        if isinstance(values, Iterable) and not isinstance(values, str | bytes):
            return list(values)
        self.fault(path, values, "a list is needed", f"write {path}=[...]")
        return []

    def numbers(
        self, path: str, values: Any, *, none: float | None = None, may_be_none: bool = False, stand_in: float = 0.0
    ) -> tuple[Any, ...]:
        """Numbers of a list. `none` takes the place of None, unless None may stay."""
        found: list[float | None] = []
        for index, value in enumerate(self.items(path, values)):
            if value is None and (may_be_none or none is not None):
                found.append(none)
            elif isinstance(value, Real) and not isinstance(value, bool):
                found.append(float(value))
            else:
                self.fault(f"{path}[{index}]", value, "a number is needed", "write it in SI, without quotes")
                found.append(stand_in)
        return tuple(found)

    def texts(self, path: str, values: Any, count: int) -> tuple[str, ...]:
        """Names, "station 0", "station 1", ... where none are given."""
        if values is None:
            return tuple(f"station {index}" for index in range(count))
        return tuple(str(value) for value in self.items(path, values))

    def stations(self, path: str, values: Any, names: tuple[str, ...]) -> tuple[int, ...]:
        """Numbers of stations given by number or name."""
        found = []
        for index, value in enumerate(self.items(path, values)):
            if isinstance(value, str) and value in names:
                found.append(names.index(value))
            elif isinstance(value, Integral) and not isinstance(value, bool):
                found.append(int(value))
            else:
                near = _core.near_matches(str(value), list(names)) or list(names[:3])
                advice = f"write a number from 0, or {' or '.join(near)}" if near else "write a number from 0"
                self.fault(f"{path}[{index}]", value, "names no station", advice)
        return tuple(found)
