"""Wrong types from Python: told in our words before any work, all of a call at once."""

import inspect
import pickle

import pytest

import calmshaft as cs
from calmshaft import plots
from calmshaft.arguments import WANTED, checked

LAUNCH = cs.sample_line("harbour-launch")
AT = cs.Condition(800)
WRONG = [
    (lambda: cs.compare({"a": 1}), r"lines\['a'\] is 1: must be a Line; write .*load_line"),
    (lambda: cs.compare({"a": LAUNCH}, rpm=800), "rpm is 800: must be a list of numbers"),
    (lambda: cs.report(1), "line is 1: must be a Line"),
    (lambda: cs.sweep("mine.toml"), "line is 'mine.toml': must be a Line"),
    (lambda: cs.sweep(LAUNCH, 3), "axes is 3: must be names with values"),
    (lambda: cs.uncertainty(LAUNCH, 800), "at is 800: must be a Condition"),
    (lambda: cs.quiet_idle(LAUNCH, misfiring="none"), "misfiring is 'none': must be a list of faults"),
    (lambda: cs.plate_duty(LAUNCH), "run is of type Line: must be a Run"),
    (lambda: cs.speeds_to_avoid(LAUNCH, step="25"), "step is '25': must be a number"),
    (lambda: cs.misfiring_ladder(LAUNCH, AT, ["dead"]), "a strength lies between 0 and 1"),
    (lambda: LAUNCH.replace("engine.idle_rpm"), "changes is 'engine.idle_rpm': must be names with values"),
    (lambda: LAUNCH.with_plate(3), "plate is 3: must be names with values or a text or a path"),
    (lambda: plots.torque_trace({"a": 3}), r"runs\['a'\] is 3: must be a Run"),
    (lambda: cs.Condition(800, gear=["ahead"]), "gear is .*must be one of ahead"),
    (lambda: cs.Condition(800, load=5), "load is 5: must be one of under way"),
    (lambda: cs.Condition(800, misfiring={3: "half"}), "a strength lies between 0 and 1"),
]


@pytest.mark.parametrize(("call", "said"), WRONG)
def test_a_wrong_type_is_told_with_what_to_write(call, said):
    with pytest.raises(cs.LineError, match=said):
        call()


def test_all_wrong_arguments_of_a_call_are_told_at_once():
    with pytest.raises(cs.LineError) as caught:
        cs.steady(1, 2)
    assert [fault.path for fault in caught.value.faults] == ["line", "at"]


def test_nothing_begins_where_one_line_of_several_is_none(monkeypatch):
    begun = []
    monkeypatch.setattr("calmshaft.judgement.comparison.sweep", lambda *args, **options: begun.append(args))
    with pytest.raises(cs.LineError):
        cs.compare({"plate A": LAUNCH, "plate B": "plate-b"})
    assert begun == []


def test_an_option_that_is_none_is_left_to_python():
    with pytest.raises(TypeError, match="speed"):
        cs.steady(LAUNCH, AT, speed=3)


def test_a_checked_function_can_be_pickled_for_other_processes():
    assert pickle.loads(pickle.dumps(cs.steady)) is cs.steady
    assert pickle.loads(pickle.dumps(plots.tornado)) is plots.tornado


@pytest.mark.parametrize("room", [cs, plots])
def test_every_public_function_that_takes_a_line_a_condition_or_a_run_asks_for_it(room):
    functions = [getattr(room, name) for name in room.__all__ if inspect.isfunction(getattr(room, name))]
    asks = [one for one in functions if inspect.signature(one).parameters]
    types = {one: next(iter(inspect.signature(one).parameters.values())).annotation for one in asks}
    known = [one for one, words in types.items() if set(words.split(" | ")) <= set(WANTED)]
    assert len(known) > len(asks) / 2
    for function in known:
        with pytest.raises(cs.LineError, match="must be"):
            function(3.5j)


def test_what_fits_goes_through_untouched():
    def doubled(line: "str", times: "int | None" = None) -> str:
        return line * (times or 2)

    assert checked(doubled)("ab") == "abab"
    assert checked(doubled)("ab", times=3) == "ababab"
