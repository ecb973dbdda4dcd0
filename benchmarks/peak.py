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

CHAINS, WIDTH, ROUNDS = 12, 4, 5_000_000
A_STAGE_OF_STATE = 13  # Runge-Kutta 4, a state: three times y + h k (2), then y + h/6 (a + 2 b + 2 c + d) (7)
A_PIECE_OF_SHAFT = 11  # torque k (q - q') + d (w - w') (5), two rates of state (3 each), in each of four evaluations
STATIONS = STATES // 2


def peak() -> dict[str, Any]:
    """Operations a second [1/s] of one core that multiplies and adds packs of four, the most of nine runs."""
    missing = compiler_missing()
    if missing:
        return {"operations_a_second": None, "left_out": missing}
    wide = "avx2" in _processor_flags()
    flags = ["-O3", "-ffp-contract=off", *(["-mavx2"] if wide else [])]
    run = compiled(Path(__file__).with_name("peak.cpp"), *flags).multiply_and_add
    run.restype = ctypes.c_double
    spent = []
    for _ in range(9):
        begun = time.process_time()
        found = run(ctypes.c_long(ROUNDS), ctypes.c_double(0.5), ctypes.c_double(1.0))
        spent.append(time.process_time() - begun)
    assert abs(found - 2.0 * CHAINS * WIDTH) < 1e-9  # x = x / 2 + 1 ends at 2
    return {"operations_a_second": 2 * CHAINS * WIDTH * ROUNDS / min(spent), "flags": " ".join(flags)}


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
    """Operations that one Runge-Kutta step of the launch needs with so many inertias, teeth and plate in contact.

    Counted by running the equations of launch_equations.py on numbers that count. Reading the cylinders' tables at a
    node costs nothing, energy and statistics are left out: so it is what the equations need, not what the library does.
    """
    boat = launch(cs.sample_line("harbour-launch"), cs.Condition(1500))
    state = [Counted(value) for value in start_state(boat)]
    memory = [Counted(value) for value in (0.5, boat.speed, 0.0, 0.0)]
    Counted.operations = 0
    equations(boat)(0.0, state, memory)
    evaluation = Counted.operations + A_PIECE_OF_SHAFT * (inertias - STATIONS)
    return 4 * evaluation + A_STAGE_OF_STATE * 2 * inertias
