"""What one core could do at most, and how many floating-point operations a step of the launch needs."""

from __future__ import annotations

import ctypes
import operator
import time
from pathlib import Path
from typing import Any

import calmshaft as cs
from launch_equations import STATES, equations, launch, start_state
from native import compiled, compiler_missing

CHAINS, ROUNDS = 12, 5_000_000
A_LEAP_OF_STATION = 7  # angle + h rate (2), speed + gain (2), half the gain to the node and from it (3)
A_PIECE_OF_SHAFT = 11  # torque k (q - q') + d (w - w') (5), two rates of state (3 each)
STATIONS = STATES // 2


def peak() -> dict[str, Any]:
    """Operations a second [1/s] of one core that multiplies and adds in its widest registers, the most of nine runs."""
    missing = compiler_missing()
    if missing:
        return {"operations_a_second": None, "left_out": missing}
    width, wide = _widest(_processor_flags())
    flags = ["-O3", "-ffp-contract=off", f"-DWIDTH={width}", *wide]
    run = compiled(Path(__file__).with_name("peak.cpp"), *flags).multiply_and_add
    run.restype = ctypes.c_double
    spent = []
    for _ in range(9):
        begun = time.process_time()
        found = run(ctypes.c_long(ROUNDS), ctypes.c_double(0.5), ctypes.c_double(1.0))
        spent.append(time.process_time() - begun)
    assert abs(found - 2.0 * CHAINS * width) < 1e-9  # x = x / 2 + 1 ends at 2
    return {"operations_a_second": 2 * CHAINS * width * ROUNDS / min(spent), "flags": " ".join(flags)}


def _widest(processor: set[str]) -> tuple[int, list[str]]:
    """Numbers in a register, and the compiler's flag for it, of the sets that calmshaft's kernels are built for."""
    if {"avx512f", "avx512dq", "avx512vl"} <= processor:
        return 8, ["-mavx512f"]
    return 4, ["-mavx2"] if "avx2" in processor else []


def _processor_flags() -> set[str]:
    listed = Path("/proc/cpuinfo")
    lines = listed.read_text(encoding="utf-8").splitlines() if listed.exists() else []
    return next((set(line.split()) for line in lines if line.startswith("flags")), set())


class Counted(float):
    """A number that counts the additions, subtractions, multiplications and divisions made with it."""

    operations = 0


def _counting(function: Any, turned: bool) -> Any:
    def counted(self: Counted, other: float) -> Counted:
        Counted.operations += 1
        left, right = (other, self) if turned else (self, other)
        return Counted(function(float(left), float(right)))

    return counted


for _name in ("add", "sub", "mul", "truediv"):
    setattr(Counted, f"__{_name}__", _counting(getattr(operator, _name), turned=False))
    setattr(Counted, f"__r{_name}__", _counting(getattr(operator, _name), turned=True))
Counted.__neg__ = lambda self: Counted(-float(self))  # a sign is no operation


def operations_a_step(inertias: int) -> int:
    """Operations that one leapfrog step of the launch needs with so many inertias, teeth and plate in contact.

    Counted by running the equations of launch_equations.py on numbers that count. Reading the cylinders' tables at a
    node costs nothing, energy and statistics are left out: so it is what the equations need, not what the library does.
    """
    boat = launch(cs.sample_line("harbour-launch"), cs.Condition(1500))
    state = [Counted(value) for value in start_state(boat)]
    memory = [Counted(value) for value in (0.5, boat.speed, 0.0, 0.0)]
    Counted.operations = 0
    equations(boat)(0.0, state, memory)
    evaluation = Counted.operations + A_PIECE_OF_SHAFT * (inertias - STATIONS)
    return evaluation + A_LEAP_OF_STATION * inertias
