"""One engine cycle of the oracle: SciPy's solver in time form, samples and an energy audit.

Dry friction is integrated regime by regime: its torque is an explicit function of twist while it sticks or
slips, and terminal events (slip begins at full deflection, sticking at zero twist rate) change the regime.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np
from scipy.integrate import solve_ivp

from independent_chain import Chain
from independent_engine import friction_torque

GAUSS_NODES, GAUSS_WEIGHTS = np.polynomial.legendre.leggauss(5)


@dataclass
class Cycle:
    """One engine cycle: samples at Gauss points of every step, with their weights in time."""

    state: np.ndarray  # at the end, crank angle set back to zero
    duration: float  # [s]
    momentum: tuple[float, float]  # [kg m^2/s] before and after, referred to the crank
    states: np.ndarray  # (sample, state)
    weights: np.ndarray  # [s]
    joints: dict[str, np.ndarray]  # by name, (sample,)
    audit: dict[str, float]  # [J]


def integrate_cycle(chain: Chain, state: np.ndarray, method: str = "DOP853", rtol: float = 1e-9) -> Cycle:
    """Integrate one cycle of the engine from crank angle zero."""
    period = chain.tables.period

    def cycle_ends(_time: float, y: np.ndarray) -> float:
        return y[0] - period

    cycle_ends.terminal, cycle_ends.direction = True, 1
    begin, time, step = state, 0.0, None
    longest = longest_step(chain)
    pieces: list[tuple[np.ndarray, np.ndarray, dict]] = []
    while True:
        events = [cycle_ends, *regime_events(chain)]
        limit = time + 3 * period / chain.mean_speed
        part = solve_ivp(
            chain.rates, (time, limit), begin, method, events=events, dense_output=True,
            rtol=rtol, atol=1e-11, max_step=longest, first_step=step,
        )  # fmt: skip
        if part.status != 1 or not np.all(np.isfinite(part.y[:, -1])):
            raise RuntimeError(f"cycle did not end: {part.message}")
        pieces.append(sampled(chain, part.sol))
        time, begin, step = part.t[-1], part.y[:, -1], None
        if len(part.t_events[0]):
            break
        change_regime(chain, part, begin)
    states, weights = (np.concatenate([piece[k] for piece in pieces]) for k in (0, 1))
    joints = {name: np.concatenate([piece[2][name] for piece in pieces]) for name in pieces[0][2]}
    end = np.concatenate([[0.0], begin[1:]])
    audit = energy_audit(chain, state, end, states, weights, joints)
    return Cycle(end, time, (momentum(chain, state), momentum(chain, end)), states, weights, joints, audit)


def longest_step(chain: Chain) -> float:
    """Half the period of the stiffest contact's local mode [s]."""
    rates = [gap.stiffness * chain.turns[to] ** 2 / chain.inertias[to] for _, _, to, gap in chain.gaps]
    return float(np.pi / np.sqrt(2 * max(rates, default=1e6)))


def regime_events(chain: Chain) -> list[Any]:
    """Terminal events at which dry friction changes between sticking and slipping."""
    friction, count = chain.friction, len(chain.turns)
    if friction is None:
        return []
    if friction.slip:

        def stops_slipping(_time: float, y: np.ndarray) -> float:
            return friction.slip * (y[count] - y[count + 1])

        stops_slipping.terminal, stops_slipping.direction = True, -1
        return [stops_slipping]

    def slips_ahead(_time: float, y: np.ndarray) -> float:
        return (-y[1] - friction.anchor) / friction.reach - 1

    def slips_astern(_time: float, y: np.ndarray) -> float:
        return (-y[1] - friction.anchor) / friction.reach + 1

    slips_ahead.terminal = slips_astern.terminal = True
    slips_ahead.direction, slips_astern.direction = 1, -1
    return [slips_ahead, slips_astern]


def change_regime(chain: Chain, part: Any, state: np.ndarray) -> None:
    """Pass from slip to stick or back, 1e-9 off the next event's root so that it is not found at once."""
    friction = chain.friction
    if friction.slip:
        friction.anchor, friction.slip = -state[1] - friction.slip * friction.reach * (1 - 1e-9), 0
    else:
        friction.slip = 1 if len(part.t_events[1]) else -1


def sampled(chain: Chain, solution: Any) -> tuple[np.ndarray, np.ndarray, dict[str, np.ndarray]]:
    """States, time weights and joint values at the Gauss points of every step, within one friction regime."""
    starts, widths = solution.ts[:-1], np.diff(solution.ts)
    times = (starts[:, None] + widths[:, None] * (GAUSS_NODES + 1) / 2).ravel()
    states = solution(times).T
    rows = [chain.joint_torques(row) for row in states.tolist()]
    joints = {name: np.array([row[name] for row in rows]) for name in (rows[0] if rows else ())}
    crank = np.array([chain.crank(angle) for angle in states[:, 0]])
    joints["gas"] = crank[:, 2]
    return states, (widths[:, None] * GAUSS_WEIGHTS / 2).ravel(), joints


def momentum(chain: Chain, state: np.ndarray) -> float:
    """Angular momentum referred to the crank [kg m^2/s]."""
    count = len(chain.turns)
    inertias = np.array([chain.crank(state[0])[0], *chain.inertias[1:]])
    return float(np.sum(inertias * state[count:] / np.array(chain.turns)))


def stored_energy(chain: Chain, state: np.ndarray) -> float:
    """Kinetic and elastic energy [J], without dry friction's presliding energy."""
    count = len(chain.turns)
    q, w = np.concatenate([[0.0], state[1:count]]), state[count:]
    inertias = np.array([chain.crank(state[0])[0], *chain.inertias[1:]])
    energy = 0.5 * float(np.sum(inertias * w**2))
    if chain.spring is not None:
        energy += chain.spring.stored(-q[1]) + chain.stops.stored(-q[1])
    energy += sum(gap.stored(q[source] - chain.turns[to] * q[to]) for _, source, to, gap in chain.gaps)
    return energy + sum(0.5 * k * (q[first] - q[second]) ** 2 for first, second, k, _ in chain.shafts)


def energy_audit(
    chain: Chain, begin: np.ndarray, end: np.ndarray, states: np.ndarray, weights: np.ndarray, joints: dict
) -> dict[str, float]:
    """Energies of one cycle [J]: gas work in, each loss, change of stored energy, and the defect."""
    count = len(chain.turns)
    speeds = states[:, count:]

    def work(power: np.ndarray) -> float:
        return float(np.sum(weights * power))

    book = {
        "gas": work(joints["gas"] * speeds[:, 0]),
        "engine_friction": work(np.array([friction_torque(chain.engine, w) * w for w in speeds[:, 0]])),
        "drag": work(speeds @ np.array(chain.drags)),
        "shaft": sum(work(c * joints[f"shaft_{i}_rate"] ** 2) for i, (_, _, _, c) in enumerate(chain.shafts)),
    }
    if chain.propeller is not None:
        own = speeds[:, chain.propeller]
        book["propeller"] = work(np.array([-chain.load(w) * w for w in own]))
    if chain.spring is not None:
        twist, rate = joints["plate_twist"], joints["plate_rate"]
        book["plate_damping"] = work(chain.plate_damping * rate**2)
        book["plate_friction"] = work(joints["plate_friction"] * rate)  # lost and, within presliding, stored
        elastic = np.array(list(map(chain.stops.stored_rate, twist.tolist(), rate.tolist())))
        book["plate_stop"] = work(joints["plate_stop"] * rate - elastic)
    for name, _, _, gap in chain.gaps:
        twist, rate = joints[name + "_twist"], joints[name + "_rate"]
        elastic = np.array(list(map(gap.stored_rate, twist.tolist(), rate.tolist())))
        book[name] = work(joints[name] * rate - elastic)
    book["stored"] = stored_energy(chain, end) - stored_energy(chain, begin)
    book["defect"] = 2 * book["gas"] - sum(book.values())
    return book
