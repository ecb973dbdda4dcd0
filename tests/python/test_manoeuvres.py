"""Manoeuvres from Python: books that balance, closed forms, the steady state and SciPy as second ways."""

import math
import signal
import subprocess
import sys
import time

import numpy as np
import pytest
from scipy.integrate import solve_ivp

import calmshaft as cs
from calmshaft import _core
from calmshaft.runs import prepared

RPM = math.tau / 60
LAUNCH = cs.sample_line("harbour-launch")
B, C = LAUNCH.with_plate("plate-b"), LAUNCH.with_plate("plate-c")
AUDIT = 1e-3  # of the throughput: the audit's own limit
NEUTRAL = cs.Condition(800, "neutral")

MANOEUVRES = [
    (cs.Hold(1.0), cs.Condition(1500)),
    (cs.RunUp(700, 2600, rate=300), None),
    (cs.RunDown(2000, 700, rate=300), None),
    (cs.Start(), None),
    (cs.Stop(), None),
    (cs.Engage("ahead"), None),
    (cs.Engage("astern"), NEUTRAL),
    (cs.CrashReversal(), cs.Condition(1000)),
    (cs.CrashReversal(), cs.Condition(900, "astern")),
    (cs.LoadLoss(), cs.Condition(2000)),
    (cs.ThrottleStep(2200), cs.Condition(1000)),
    (cs.CylinderFault(3, dies_at=0.3, comes_back_at=1.5), cs.Condition(1500)),
]


def at_end(signal_over_time, share=0.25):
    values = signal_over_time.values
    return values[..., -int(values.shape[-1] * share) :]


@pytest.mark.parametrize(("manoeuvre", "at"), MANOEUVRES, ids=lambda value: type(value).__name__)
@pytest.mark.parametrize("line", [LAUNCH, C], ids="AC")
def test_the_books_of_every_manoeuvre_balance(line, manoeuvre, at):
    history = cs.simulate(line, manoeuvre, at)
    assert history.status in ("finished", "at rest")
    audit = history.energy_audit
    assert abs(audit["relative_defect"]) < AUDIT
    work_in = audit["gas_work"] + audit["starter_work"]
    taken = audit["engine_friction"] + audit["couplings"] + audit["loads"] + audit["stored_change"]
    assert work_in - taken == pytest.approx(audit["defect"], abs=1e-6 * abs(audit["engine_friction"]))
    assert audit["couplings"] > 0
    for name in ("speed", "twist", "torque", "fuelling", "mean_speed"):
        assert np.isfinite(history.signals[name].values).all(), name
    steps = np.diff(history.signals.time.values)
    assert steps == pytest.approx(steps[0], rel=1e-6)
    for shares in history.mesh.values():
        assert sum(shares.values()) == pytest.approx(1)
    for name, peaks in history.peaks.items():
        torque = history.signals.torque.sel(coupling=name).values
        assert peaks["torque"].least <= torque.min()
        assert peaks["torque"].greatest >= torque.max()


def test_the_dataset_speaks_like_that_of_a_steady_run():
    signals = cs.simulate(B, cs.Hold(0.1), cs.Condition(1500)).signals
    steady = cs.steady(B, cs.Condition(1500)).signals
    for name in ("speed", "twist", "torque"):
        assert signals[name].attrs == steady[name].attrs
        assert signals[name].dims == (steady[name].dims[0], "time")
    assert list(signals.station.values) == list(steady.station.values)
    assert list(signals.coupling.values) == list(steady.coupling.values)
    assert signals.crank_angle.attrs["units"] == "rad"
    assert signals.time.attrs["units"] == "s"
    for variable in signals.variables.values():
        assert {"units", "long_name"} <= set(variable.attrs) or variable.dtype.kind in "UO"


HELD = [(B, cs.Condition(800)), (C, cs.Condition(750)), (C, cs.Condition(1200, "neutral"))]


@pytest.mark.parametrize(("line", "at"), HELD, ids=str)
def test_a_held_speed_has_the_ripple_of_the_steady_condition(line, at):
    run, history = cs.steady(line, at), cs.simulate(line, cs.Hold(2.0), at)
    coupling, measure = ("loaded mesh", "mesh") if at.gear == "ahead" else ("free pair", "unloaded_mesh")
    # 0.5 %: two engines on the same equations, where teeth stay in contact
    ripple = np.ptp(at_end(history.signals.torque.sel(coupling=coupling)))
    assert ripple == pytest.approx(run.measures[f"{measure}_torque_ripple"], rel=5e-3)
    twist = at_end(history.signals.twist.sel(coupling="plate"))
    assert twist.max() == pytest.approx(run.measures["plate_twist_max"], rel=5e-3)
    assert history.signals.fuelling.values[-1] == pytest.approx(run.fuelling, rel=2e-3)


def test_with_a_dead_cylinder_a_slow_governor_leaves_the_ripple_of_constant_fuelling():
    slow = B.replace({"engine.governor.droop": "0.3", "engine.governor.lag": "1 s"})
    at = cs.Condition(1000, misfiring=[3])
    history = cs.simulate(slow, cs.Hold(2.0), at, settle_cycles=40)
    ripple = np.ptp(at_end(history.signals.torque.sel(coupling="loaded mesh"), 0.5))
    # 1 %: what is left of the governor's answer to half orders
    assert ripple == pytest.approx(cs.steady(slow, at).best("mesh_torque_ripple"), rel=1e-2)


def test_a_load_that_goes_raises_the_speed_by_the_droop():
    history = cs.simulate(B, cs.LoadLoss(at=0.5, duration=6.0, after=0.1), cs.Condition(2000))
    signals = history.signals
    lost = signals.sel(time=slice(5.0, 6.3))
    before = signals.sel(time=slice(0.1, 0.4))
    # w = w0 + droop w_rated (s0 - s1), s the fuelling; the fuelling itself comes from the balance of torques
    fell = float(before.fuelling.mean() - lost.fuelling.mean())
    rose = float(lost.mean_speed.mean() - before.mean_speed.mean())
    assert fell > 0.3
    assert rose == pytest.approx(0.06 * 2600 * RPM * fell, rel=5e-3)
    unloaded = cs.steady(B, cs.Condition(float(lost.mean_speed.mean()) / RPM, load="none"))
    assert float(lost.fuelling.mean()) == pytest.approx(unloaded.fuelling, rel=1e-2)
    # drop the droop and the rise goes with it
    stiff = B.replace({"engine.governor.droop": "0.03"})
    lost = cs.simulate(stiff, cs.LoadLoss(at=0.5, duration=6.0, after=0.1), cs.Condition(2000)).signals
    risen = float(lost.mean_speed.sel(time=slice(5.0, 6.3)).mean()) - 2000 * RPM
    assert risen == pytest.approx(rose / 2, rel=0.05)


def order_amplitude(history, coupling, order):
    """Mean rpm and amplitude of an order of the torque, engine cycle by engine cycle."""
    signals = history.signals
    torque, angle = signals.torque.sel(coupling=coupling).values, signals.crank_angle.values
    cycle = ((angle - angle[0]) // (2 * math.tau)).astype(int)
    found = []
    for number in range(cycle.max()):
        here = cycle == number
        wave = np.exp(-1j * order * angle[here])
        mean = signals.mean_speed.values[here].mean() / RPM
        found.append((mean, 2 * abs(np.mean((torque[here] - torque[here].mean()) * wave))))
    return np.array(found).T


def test_a_slow_run_up_has_the_orders_of_the_steady_conditions_on_its_way():
    rpm, amplitude = order_amplitude(cs.simulate(B, cs.RunUp(1000, 2000, rate=50)), "loaded mesh", 2)
    for asked in (1100, 1200, 1600, 1700):
        steady = abs(cs.steady(B, cs.Condition(asked)).orders[3])
        # 5 %: at 50 rpm/s the amplitude is a few cycles behind the speed
        assert np.interp(asked, rpm, amplitude) == pytest.approx(steady, rel=0.05)


def test_run_up_and_run_down_pass_the_resonance_where_the_modes_say():
    # order 2 of almost massless pistons, so that no inertia torque cancels the gas torque beside the resonance
    light = B.replace({f"engine.{key}": "0.01 kg" for key in ("piston_mass", "rod_mass")})
    critical = cs.modes(light, cs.Condition(1450)).angular_frequency[2] / 2 / RPM
    for ramp in (cs.RunUp(1000, 2000, rate=50), cs.RunDown(2000, 1000, rate=50)):
        rpm, amplitude = order_amplitude(cs.simulate(light, ramp), "shaft", 2)
        assert rpm[amplitude.argmax()] == pytest.approx(critical, rel=0.02)
        assert amplitude.max() > 2 * max(amplitude[0], amplitude[-1])
    dead = cs.Condition(1500, misfiring=[3])  # order 1.5 of the line as it is
    rpm, amplitude = order_amplitude(cs.simulate(B, cs.RunUp(1500, 2500, rate=100), dead), "shaft", 1.5)
    assert rpm[amplitude.argmax()] == pytest.approx(critical * 2 / 1.5, rel=0.03)


def test_a_run_up_keeps_its_rate():
    history = cs.simulate(B, cs.RunUp(800, 2400, rate=200))
    asked = 800 + 200 * history.signals.time.values
    inside = slice(history.signals.time.size // 10, -history.signals.time.size // 10)
    assert history.signals.mean_speed.values[inside] / RPM == pytest.approx(asked[inside], rel=0.01)


def linear_line():
    """Neutral, no free gear, one linear spring for a plate: two inertias and a crank."""
    document = B.document
    document["gearbox"]["unloaded"] = []
    document["plate"] |= {"free_play": "0 deg", "hysteresis_full_width": "0 N*m", "stop_angle": "90 deg"}
    document["plate"]["stages"] = [{"stiffness": "9 N*m/deg", "until": "90 deg"}]
    return cs.line_from_document(document)


def test_a_run_down_on_a_linear_line_is_that_of_scipy():
    line = linear_line()
    history = cs.simulate(line, cs.Stop(at=0.0, duration=0.6), NEUTRAL, settle_cycles=0)
    signals = history.signals
    system = _core.mass_elastic_system(prepared(line), NEUTRAL.core(4), 5760)
    tables, friction = system["tables"], system["engine_friction"]
    plate, drag = system["couplings"][0], system["loads"][0]["torque"]
    stiffness, damping = plate["ramps"][0]["slope"], plate["damping"]
    flywheel, input_inertia = (station["inertia"] for station in system["stations"])
    angle = np.arange(5761) * tables["cycle"] / 5760
    column = {name: np.append(tables[name], tables[name][0]) for name in tables if name not in ("nodes", "cycle")}

    def rate(_, state, fuelling):
        crank, turned, w0, w1 = state
        now = {name: np.interp(crank % tables["cycle"], angle, values) for name, values in column.items()}
        torque = stiffness * (crank - turned) + damping * (w0 - w1)
        loss = friction["constant"] + friction["per_speed"] * w0 + friction["per_speed_squared"] * w0**2
        gas = now["base_torque"] + fuelling * now["fuelled_torque"]
        on_crank = gas - loss - torque - 0.5 * now["inertia_slope"] * w0**2
        return [w0, w1, on_crank / (flywheel + now["inertia"]), (torque - drag) / input_inertia]

    first = signals.isel(time=0)
    start = float(first.crank_angle)
    state = [start, start - float(first.twist[0]), *first.speed.values]
    fires = (start // math.pi + 1) * math.pi  # until the next cylinder fires, the last one still burns
    burning = lambda _, state, fuelling: state[0] - fires  # noqa: E731
    burning.terminal = True
    options = {"rtol": 1e-8, "atol": 1e-10, "max_step": 1e-3, "dense_output": True}
    before = solve_ivp(rate, (0, 0.6), state, events=burning, args=(float(first.fuelling),), **options)
    after = solve_ivp(rate, (before.t[-1], 0.6), before.y[:, -1], args=(0.0,), **options)
    time_ = signals.time.values[signals.time.values > before.t[-1] + 1e-3]
    speed = signals.speed.sel(time=time_).values
    # 2e-4 of the speed: straight lines through table nodes here, cubics there
    assert speed == pytest.approx(after.sol(time_)[2:], rel=2e-4)
    twist = signals.twist.sel(time=time_).values[0]
    expected = after.sol(time_)[0] - after.sol(time_)[1]
    assert twist == pytest.approx(expected, abs=2e-3 * np.ptp(expected))
    assert speed[0][-1] < 0.6 * speed[0][0]


def test_a_start_passes_the_resonance_and_a_stop_comes_to_rest():
    start = cs.simulate(B, cs.Start())
    rpm = start.signals.mean_speed / RPM
    assert float(rpm.sel(time=slice(0.1, 0.4)).mean()) == pytest.approx(200, rel=0.2)  # a straight-line starter
    assert float(at_end(rpm).mean()) == pytest.approx(800, rel=0.01)
    assert start.energy_audit["starter_work"] > 0
    passing = start.peaks["plate"]["torque"]
    idling = at_end(start.signals.torque.sel(coupling="plate"))
    assert passing.greatest > 2 * idling.max()
    assert passing.greatest_at < 1.5
    stop = cs.simulate(B, cs.Stop())
    assert stop.status == "at rest"
    assert np.abs(stop.signals.speed.values[:, -1]).max() < 0.5
    assert float(stop.signals.fuelling[-1]) == 0


def test_a_gentle_clutch_makes_less_torque_and_more_heat_than_a_harsh_one():
    gentle = cs.simulate(B, cs.Engage(ramp_time=1.0, duration=3.0))
    harsh = cs.simulate(B, cs.Engage(ramp_time=0.05, duration=3.0))
    assert gentle.clutch["loaded mesh"]["heat"] > harsh.clutch["loaded mesh"]["heat"]
    assert gentle.peaks["plate"]["torque"].greatest < harsh.peaks["plate"]["torque"].greatest
    assert gentle.clutch["loaded mesh"]["slip_ended"] > harsh.clutch["loaded mesh"]["slip_ended"] > 0.7
    for history in (gentle, harsh):
        speed = at_end(history.signals.speed, 0.1).mean(axis=1)
        assert speed[2] == pytest.approx(speed[1] / 2, rel=1e-3)  # ratio 2, no slip left


def test_a_reversal_turns_the_propeller_round_through_the_other_mesh():
    history = cs.simulate(B, cs.CrashReversal(), cs.Condition(1000))
    propeller = history.signals.speed.sel(station="propeller")
    assert float(propeller[0]) > 40
    assert float(propeller[-1]) < -40
    assert list(history.clutch) == ["loaded mesh", "astern mesh"]
    torque = at_end(history.signals.torque)
    names = list(history.signals.coupling.values)
    assert np.all(torque[names.index("loaded mesh")] == 0)
    assert torque[names.index("astern mesh")].mean() == pytest.approx(
        cs.steady(B, cs.Condition(1000, "astern")).measures["mesh_torque_mean"], rel=0.02
    )


def test_a_dead_cylinder_slows_a_fixed_rack_more_than_a_governed_one_and_coming_back_heals_it():
    fault = cs.CylinderFault(2, dies_at=0.5, comes_back_at=4.0, duration=8.0)
    governed = cs.simulate(B, fault, cs.Condition(1500)).signals.mean_speed / RPM
    fixed = cs.simulate(B, fault, cs.Condition(1500, fuelling="fixed")).signals.mean_speed / RPM
    sick = slice(3.0, 3.8)
    assert float(fixed.sel(time=sick).mean()) < float(governed.sel(time=sick).mean()) - 50 < 1450
    healed = float(fixed[-1000:].mean()), float(governed[-1000:].mean())
    assert healed == pytest.approx((1500, 1500), rel=0.01)


def test_the_values_of_governor_and_clutch_come_from_the_line_or_are_estimated():
    assert LAUNCH.quantities["engine.governor.droop"].source == "estimated"
    assert LAUNCH.quantities["gearbox.clutch.torque"].value == pytest.approx(500)  # twice the box, value from memory
    weak = B.replace({"gearbox.clutch.torque": "60 N*m"})
    history = cs.simulate(weak, cs.Engage(), cs.Condition(1200, "neutral"))
    assert history.peaks["loaded mesh"]["torque"].greatest <= 60 * (1 + 1e-9)
    assert cs.simulate(weak, cs.Engage(torque="50 N*m"), NEUTRAL).peaks["loaded mesh"]["torque"].greatest <= 50 * (
        1 + 1e-9
    )


def test_a_stalled_engine_says_so():
    history = cs.simulate(B, cs.Engage(ramp_time=0.1), cs.Condition(800, "neutral", load="800 N*m"))
    assert history.status == "stalled"
    assert "160 rpm" in history.reason
    assert history.signals.time.values[-1] < 4.0


def test_a_hunting_governor_says_by_how_much():
    nervous = B.replace({"engine.governor.droop": "0.005", "engine.governor.lag": "0.5 s"})
    history = cs.simulate(nervous, cs.LoadLoss(), cs.Condition(1500))
    assert history.status == "hunting"
    assert "swings by" in history.reason
    assert cs.simulate(B, cs.LoadLoss(), cs.Condition(1500)).status == "finished"


def test_a_speed_that_cannot_be_reached_is_told():
    history = cs.simulate(B, cs.RunUp(1800, 2600, rate=200, hold=2.0), cs.Condition(1800, misfiring=[3]))
    assert history.status == "finished"
    assert "at its stop" in history.reason
    assert history.signals.fuelling.max() <= 1.1 + 1e-9


TROUBLE = {
    "no backlash": {"gearbox.ahead.backlash": "0 deg", "gearbox.unloaded[0].backlash": "0 deg"},
    "locked plate": {"plate.hysteresis_full_width": "500 N*m"},
    "stiff stop": {"plate.stop_stiffness": "1e5 N*m/deg"},
}


@pytest.mark.parametrize("changes", TROUBLE.values(), ids=TROUBLE)
def test_odd_lines_end_with_balanced_books(changes):
    history = cs.simulate(B.replace(changes), cs.CrashReversal(duration=3.0), cs.Condition(800))
    assert history.status == "finished"
    assert abs(history.energy_audit["relative_defect"]) < AUDIT
    assert np.isfinite(history.signals.torque.values).all()


def test_a_mesh_a_thousand_times_too_stiff_spends_its_budget_and_says_so():
    stiff = B.replace({"gearbox.ahead.mesh_stiffness": "6e8 N*m/rad"})
    history = cs.simulate(stiff, cs.RunUp(500, 2600, rate=100), most_evaluations=2_000_000)
    assert history.status == "unfinished"
    assert "budget" in history.reason
    assert "Hz" in history.reason
    assert np.isfinite(history.signals.torque.values).all()


def test_a_run_up_of_twenty_seconds_takes_a_few():
    started = time.perf_counter()
    history = cs.simulate(B, cs.RunUp(500, 2600, rate=105))
    assert history.statistics["ended_at"] == 20.0
    assert time.perf_counter() - started < 10  # 1.5 s measured; a busy machine may take longer


WRONG = [
    (lambda: cs.RunUp(800, 500), "RunDown"),
    (lambda: cs.RunDown(800, 900), "RunUp"),
    (lambda: cs.RunUp(500, 900, rate=0), "rate"),
    (lambda: cs.Hold(math.nan), "duration"),
    (lambda: cs.simulate(B, cs.Hold(0.0)), "duration"),
    (lambda: cs.simulate(B, "run up"), "RunUp"),
    (lambda: cs.simulate(B, cs.RunUp(500, 9000)), "3380 rpm"),
    (lambda: cs.simulate(B, cs.Engage("neutral")), "ahead or astern"),
    (lambda: cs.simulate(B, cs.Engage(), cs.Condition(800)), "neutral"),
    (lambda: cs.simulate(B, cs.Engage(torque="5 mm"), NEUTRAL), "torque"),
    (lambda: cs.simulate(B, cs.CrashReversal(), NEUTRAL), "gear"),
    (lambda: cs.simulate(B, cs.CylinderFault(7)), "cylinders 1 to 4"),
    (lambda: cs.simulate(B, cs.Hold(), tolerance=0), "tolerance"),
    (lambda: cs.simulate(B, cs.Hold(), sample_interval=-1), "sample_interval"),
]


@pytest.mark.parametrize(("ask", "word"), WRONG, ids=[word for _, word in WRONG])
def test_what_does_not_fit_is_refused_in_words(ask, word):
    with pytest.raises(cs.LineError, match=word):
        ask()


INTERRUPTED = """
import calmshaft as cs
line = cs.sample_line("harbour-launch").replace({"gearbox.ahead.mesh_stiffness": "6e8 N*m/rad"})
print("ready", flush=True)
try:
    cs.simulate(line, cs.RunUp(500, 2600, rate=10), most_evaluations=10**10, settle_cycles=0)
except KeyboardInterrupt as stopped:
    print(stopped.partial.status, stopped.partial.signals.time.size)
"""


def test_an_interrupt_ends_a_manoeuvre_with_what_there_is():
    process = subprocess.Popen([sys.executable, "-c", INTERRUPTED], stdout=subprocess.PIPE, text=True)
    assert process.stdout.readline() == "ready\n"
    time.sleep(1.5)
    process.send_signal(signal.SIGINT)
    said, _ = process.communicate(timeout=30)
    status, samples = said.split()
    assert status == "interrupted"
    assert int(samples) > 1
