"""calmshaft: torsional vibration of small engine lines, and which damper plate calms the gear mesh.

    import calmshaft as cs
    line = cs.sample_line("harbour-launch")
    run = cs.steady(line, cs.Condition(rpm=750, misfiring=[3]))
    run.status, run.measures["mesh_torque_vibratory"]

Angles are in radians and values in SI unless a name or an attribute says otherwise.
"""

from __future__ import annotations

from importlib import import_module
from typing import Any

from calmshaft._core import LineError, SolveError, __version__
from calmshaft.arguments import public
from calmshaft.condition import Condition
from calmshaft.histories import History, SimulationInterrupted, simulate
from calmshaft.judgement.comparison import Comparison, Verdict, compare
from calmshaft.line import Line, line_from_document, load_line, load_plate, sample_line, sample_lines
from calmshaft.linear.chains import Chain, chain
from calmshaft.linear.critical import CriticalSpeed, critical_speeds
from calmshaft.linear.forced import Response, response
from calmshaft.linear.holzer import HolzerRow, HolzerTable, holzer
from calmshaft.linear.modal import Modes, modes
from calmshaft.linear.orders import LinearResponse, linear_response
from calmshaft.manoeuvres import (
    CrashReversal,
    CylinderFault,
    Engage,
    Hold,
    LoadLoss,
    RunDown,
    RunUp,
    Start,
    Stop,
    ThrottleStep,
)
from calmshaft.misfiring import misfiring_ladder
from calmshaft.quiet_idle import QuietIdle, quiet_idle
from calmshaft.runs import Run, steady
from calmshaft.speeds_to_avoid import SpeedsToAvoid, speeds_to_avoid
from calmshaft.sweeps import SweepInterrupted, sweep
from calmshaft.together import random_points, zipped

# Loaded only when they are asked for: they bring pictures, pages or the schema with them.
_ROOMS = ("plots", "signals", "workshop")
_LAZY = {
    "Choice": "choosing",
    "Match": "matching",
    "PlateDuty": "duty",
    "PlateLife": "duty",
    "Sensitivity": "uncertainties.sensitivity",
    "Tornado": "uncertainties",
    "Uncertainty": "uncertainties",
    "choose": "choosing",
    "helm_card": "reports.card",
    "load_chain": "linear.tables",
    "match": "matching",
    "plate_duty": "duty",
    "plate_life": "duty",
    "plate_over_rpm": "duty",
    "report": "reports",
    "sensitivity": "uncertainties.sensitivity",
    "tornado": "uncertainties",
    "uncertainty": "uncertainties",
}


def __getattr__(name: str) -> Any:
    if name in _ROOMS:
        return import_module(f"calmshaft.{name}")
    if name not in _LAZY:
        raise AttributeError(f"module 'calmshaft' has no attribute {name!r}")
    found = public(name, getattr(import_module(f"calmshaft.{_LAZY[name]}"), name))
    globals()[name] = found
    return found


__all__ = [
    "Chain",
    "Choice",
    "Comparison",
    "Condition",
    "CrashReversal",
    "CriticalSpeed",
    "CylinderFault",
    "Engage",
    "History",
    "Hold",
    "HolzerRow",
    "HolzerTable",
    "Line",
    "LineError",
    "LinearResponse",
    "LoadLoss",
    "Match",
    "Modes",
    "PlateDuty",
    "PlateLife",
    "QuietIdle",
    "Response",
    "Run",
    "RunDown",
    "RunUp",
    "Sensitivity",
    "SimulationInterrupted",
    "SolveError",
    "SpeedsToAvoid",
    "Start",
    "Stop",
    "SweepInterrupted",
    "ThrottleStep",
    "Tornado",
    "Uncertainty",
    "Verdict",
    "__version__",
    "chain",
    "choose",
    "compare",
    "critical_speeds",
    "helm_card",
    "holzer",
    "line_from_document",
    "linear_response",
    "load_chain",
    "load_line",
    "load_plate",
    "match",
    "misfiring_ladder",
    "modes",
    "plate_duty",
    "plate_life",
    "plate_over_rpm",
    "plots",
    "quiet_idle",
    "random_points",
    "report",
    "response",
    "sample_line",
    "sample_lines",
    "sensitivity",
    "signals",
    "simulate",
    "speeds_to_avoid",
    "steady",
    "sweep",
    "tornado",
    "uncertainty",
    "workshop",
    "zipped",
]

for _name in set(__all__) & set(globals()):
    globals()[_name] = public(_name, globals()[_name])
