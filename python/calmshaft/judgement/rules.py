"""The rules: teeth that part in gear, the plate's stop, the torque that the plate's maker states, entered limits."""

from __future__ import annotations

import math
from dataclasses import replace

from calmshaft.judgement.entered import judge_entered
from calmshaft.judgement.gears import judge_hammer
from calmshaft.judgement.joint import SLIP, joint_in, judge_joint
from calmshaft.judgement.line_shaft import RULE, line_stress, ruled_shaft, shaft_torque, why_not_ruled
from calmshaft.judgement.shafts import judge_shaft
from calmshaft.judgement.verdicts import CRANK, RIGID_CRANK, Judgement, against, worst
from calmshaft.line import Line
from calmshaft.runs import Run
from calmshaft.wording import number, percent

SEPARATED_LIMIT = 0.001  # [-] share of time; common practice, no source
LEAST_OVER_MEAN = 0.1  # [-] with less torque left than this over the mean, teeth are near to parting; ours
SIDES = ("drive", "coast")
IDLE_UP_TO = 1.1  # [-] times idle speed


def judge(line: Line, run: Run) -> tuple[Judgement, ...]:
    """Tooth separation, the plate's stop, coil bind, stated torque and bolts, then the line's own [limits]."""
    plate = (_stop(line, run), *_bind(line, run), _stated_torque(line, run), *_joint(line, run))
    crank = Judgement(CRANK, "not judged", RIGID_CRANK, matters=False)
    made = (_teeth(line, run), *_hammer(run), *plate, crank, *_ruled_shaft(line, run), *judge_entered(line, run))
    if run.status in ("periodic", "subharmonic", "aperiodic"):
        return made
    why = f"the run {run.status}" + (f": {run.reason}" if run.reason else "")
    return tuple(replace(one, word="not judged", finding=why, value=math.nan, matters=True) for one in made)


def _teeth(line: Line, run: Run) -> Judgement:
    subject = "teeth of the loaded mesh"
    if run.at.gear == "neutral":
        apart = run.measures["unloaded_mesh_separated_share"]
        pair = f"; the unloaded pair is apart {percent(apart)} of the time" if math.isfinite(apart) else ""
        return Judgement(subject, "not judged", f"no mesh carries load in neutral{pair}", matters=False)
    share, coast = run.measures["mesh_separated_share"], run.measures["mesh_coast_share"]
    if not math.isfinite(share):
        return Judgement(subject, "not judged", "this line has no loaded mesh whose teeth could part")
    least, mean = worst(run, "mesh_torque_min", "lowest_cycle"), run.measures["mesh_torque_mean"]
    if share > SEPARATED_LIMIT:
        word = "over"
        finding = f"apart {percent(share)} of the time"
        finding += f" and thrown onto the coast flanks for {percent(coast)}" if coast > SEPARATED_LIMIT else ""
    else:
        word = "near" if least < LEAST_OVER_MEAN * mean else "within"
        together = f"apart {percent(share)} of the time" if share > 0 else "in contact"
        finding = f"{together}, least torque {number(least)} N m beside a mean of {number(mean)} N m"
    if word == "over" and run.at.rpm <= IDLE_UP_TO * line.quantities["engine.idle_rpm"].value * 30 / math.pi:
        finding += " (common at idle; more idle speed or a softer plate may end it)"
    return Judgement(subject, word, finding, share, SEPARATED_LIMIT, "share of time")


def _hammer(run: Run) -> tuple[Judgement, ...]:
    """Vibratory against mean torque, where a mesh carries load."""
    mean, vibratory = run.measures["mesh_torque_mean"], run.measures["mesh_torque_vibratory"]
    if not math.isfinite(mean * vibratory):
        return ()
    return (replace(judge_hammer(mean, vibratory), subject="vibratory torque against mean"),)


def _ruled_shaft(line: Line, run: Run) -> tuple[Judgement, ...]:
    """By IACS UR M68, where the line file has a section about it and the shaft carries load."""
    if run.at.gear == "neutral" or RULE not in line.document.get("shaft", {}):
        return ()
    if why := why_not_ruled(line):
        return (Judgement("shaft stress by IACS UR M68", "not judged", why),)
    ratio = run.at.rpm * math.pi / 30 / line.quantities["engine.rated_rpm"].value
    return (judge_shaft(ruled_shaft(line), ratio, line_stress(line, shaft_torque(run))),)


def _stop(line: Line, run: Run) -> Judgement:
    subject, plate = "stop of the plate", line.core.plate
    if not line.has_plate:
        return Judgement(subject, "not judged", f"{_in_its_place(line)} has no stop", matters=False)
    stops = plate.drive.stop_angle, plate.coast.stop_angle
    if not any(math.isfinite(stop) for stop in stops):
        return Judgement(subject, "not judged", "its stop_angle is not known")
    twists = worst(run, "plate_twist_max", "highest_cycle"), -worst(run, "plate_twist_min", "lowest_cycle")
    twist, stop = max(zip(twists, stops, strict=True), key=lambda pair: pair[0] / pair[1])
    word = "over" if run.measures["plate_stop_share"] > 0 else against(twist, stop)
    degrees = f"{number(math.degrees(twist))} deg of {number(math.degrees(stop))} deg"
    reached = "is reached" if word == "over" else "is not reached"
    return Judgement(subject, word, f"{reached}: twist up to {degrees}", math.degrees(twist), math.degrees(stop), "deg")


def _bind(line: Line, run: Run) -> tuple[Judgement, ...]:
    """Coils that touch, where the springs were measured; a plate given by its stages has none to speak of."""
    subject = "coil bind of the plate"
    if not line.has_plate:
        return ()
    if not line.document["plate"].get("springs"):
        return (Judgement(subject, "not judged", "its springs are not entered, only its curve", matters=False),)
    from calmshaft.workshop.plate_twist import plate_springs  # loads no earlier than needed

    springs = plate_springs(line)
    twists = worst(run, "plate_twist_max", "highest_cycle"), -worst(run, "plate_twist_min", "lowest_cycle")
    used = {side: (twist, springs.bind_angle(side)) for side, twist in zip(SIDES, twists, strict=True)}
    side = max(used, key=lambda one: used[one][0] / used[one][1])
    twist, bind = (math.degrees(angle) for angle in used[side])
    name = springs.first_solid(side).label
    finding = f"the coils of {name} touch at {number(bind)} deg in {side}, twist up to {number(twist)} deg"
    return (Judgement(subject, against(twist, bind), finding, twist, bind, "deg"),)


def _in_its_place(line: Line) -> str:
    return "a rigid drive" if line.core.plate.rigid else "the coupling of the mass-elastic table"


def _stated_torque(line: Line, run: Run) -> Judgement:
    subject, stated = "torque stated for the plate", line.core.plate.rated_torque
    if not line.has_plate:
        return Judgement(subject, "not judged", f"{_in_its_place(line)} has none", matters=False)
    if stated is None:
        return Judgement(subject, "not judged", "its maker's rated_torque is not given")
    greatest = _greatest(run)
    finding = f"greatest torque through the plate {number(greatest)} N m, stated {number(stated)} N m"
    return Judgement(subject, against(greatest, stated), finding, greatest, stated, "N m")


def _joint(line: Line, run: Run) -> tuple[Judgement, ...]:
    """All that the plate carries goes through its bolts, save what its own cover swings with."""
    if not line.has_plate:
        return (Judgement(SLIP, "not judged", f"{_in_its_place(line)} is bolted otherwise", matters=False),)
    return judge_joint(joint_in(line), _greatest(run), "greatest torque through the plate")


def _greatest(run: Run) -> float:
    """Torque through the plate, either way, of the worst cycle [N m]."""
    return max(worst(run, "plate_torque_max", "highest_cycle"), -worst(run, "plate_torque_min", "lowest_cycle"))
