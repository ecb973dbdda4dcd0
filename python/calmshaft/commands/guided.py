"""`new --guided`: some fifteen questions in the builder's words, "unknown" among the answers, then a line file."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any, get_args, get_origin

import typer
from pydantic_core import PydanticCustomError

from calmshaft import load_line, units
from calmshaft.build_line import values_of
from calmshaft.build_parts import usual_order
from calmshaft.commands.bands import say_first_answer
from calmshaft.commands.common import say, tell
from calmshaft.commands.new import refuse_unfit
from calmshaft.commands.questions import QUESTIONS, Question, plate_band
from calmshaft.commands.two_ends import value_and_ends
from calmshaft.estimates import fill
from calmshaft.output import write_text
from calmshaft.quantity import Quantity
from calmshaft.schema_fields import Physical, value_error
from calmshaft.schema_paths import field_at, kind_at, split
from calmshaft.toml_text import is_table, leaf
from calmshaft.workshop.sizes import LINE, size_faults

UNKNOWN = ("unknown", "?", "")
HEAD = """# A line for calmshaft, from the answers given to `calmshaft new --guided`.
# "unknown" is estimated by the rule named beside it: `calmshaft check FILE` shows all, `calmshaft schema` how to
# measure.
"""
HOW = (
    'Values with their unit: "92 mm", "3 5/8 in", "76 PS", "120 lbf ft". What you are not sure of, by its two ends: '
    '"14 to 22 N*m/deg".'
)

SECTIONS = ("engine", "flywheel", "plate", "gearbox", "shaft", "propeller")
HEARD = "heard"  # a remark in the file: no key of a line, but the best check of one

Answers = dict[str, Any]  # dotted key -> what the file will hold
Ask = Callable[[str], str]


def guided(name: Path, ask: Ask | None = None) -> None:
    """Ask, show each estimate at once, and write the file; nothing is written where the questions are broken off."""
    refuse_unfit(name)
    answers: Answers = {"engine.strokes": 4}
    say(f"{HOW} What you do not know: press Enter.")
    for question in QUESTIONS:
        if question.applies(answers):
            _put(question, answers, ask or _prompt)
    answers = _with_a_plate(answers)
    heard = (ask or _prompt)("\nAt which speed does the rattle stop in neutral [rpm], if it does?").strip()
    if heard.lower() not in UNKNOWN:
        answers = {HEARD: heard, **answers}
    write_text(HEAD + _written(answers), name)
    say(f"\n{name} written.")
    say_first_answer(load_line(name))
    say(f"\nNext: `calmshaft check {name}` shows what was assumed, `calmshaft uncertainty {name}` draws more.")


def _prompt(words: str) -> str:
    return str(typer.prompt(words, default="", show_default=False, prompt_suffix=" "))


def _put(question: Question, answers: Answers, ask: Ask) -> None:
    """One question until it has an answer that can be."""
    while True:
        written = ask(f"\n{question.words}").strip()
        if written.lower() in UNKNOWN:
            if question.required:
                tell("This one is needed: without it there is nothing to compute.")
                continue
            _say_estimate(question, answers)
            return
        try:
            answers[question.key] = _read(question.key, question.spellings.get(written.lower(), written))
            return
        except PydanticCustomError as error:
            tell(f"{written!r}: {error.message()}")


def _read(key: str, written: str) -> Any:
    """The value as the file takes it. Raises PydanticCustomError where it cannot be."""
    found = field_at(split(key))
    if isinstance(found, Physical):
        number = units.kind_named(found.kind).bare is not None and written.replace(".", "", 1).isdigit()
        answer = float(written) if number else value_and_ends(written, found.kind)
        quantity = found.read(answer)
        for end in (quantity.low, quantity.value, quantity.high):
            for fault in size_faults({key: replace(quantity, value=end)}, LINE):
                raise value_error(fault.rule, fault.advice)
        return answer
    if get_origin(found) is list:
        return _numbers(written)
    choices = [word for word in get_args(found) if isinstance(word, str)]
    if choices and written.lower() not in choices:
        raise PydanticCustomError("line_value", "{rule}", {"rule": f"write {' or '.join(choices)}"})
    if choices or key == "title":
        return written.lower() if choices else written
    return _numbers(written, 1)[0]


def _numbers(written: str, count: int | None = None) -> list[int]:
    parts = written.replace(",", " ").replace("-", " ").split()
    if not all(part.isdigit() and int(part) for part in parts) or (count and len(parts) != count):
        rule = "write one whole number" if count else "write whole numbers, for instance 1 3 4 2"
        raise PydanticCustomError("line_value", "{rule}", {"rule": rule})
    return [int(part) for part in parts]


def _estimated(answers: Answers) -> dict[str, Quantity]:
    return fill(values_of({key: value for key, value in _document(answers).items() if key != HEARD})[0])


def _with_a_plate(answers: Answers) -> Answers:
    """The answers, with the bands of stop and stiffness where nobody measured them."""
    band = plate_band(answers, _estimated(answers))
    return answers | {key: value for key, value in band.items() if key not in answers}


def _say_estimate(question: Question, answers: Answers) -> None:
    if usual := question.usual(answers):
        answers[question.key] = usual
        say(f"  Then {question.key} is taken as {usual}.")
        return
    if question.key == "engine.firing_order":
        order = usual_order(answers["engine.cylinders"], answers.get("engine.layout", "inline"))
        say(f"  Then the usual order is taken: {' '.join(map(str, order))}.")
    assumed = _with_a_plate(answers) if question.key.startswith("plate.") else answers
    if band := assumed.get(question.key):
        say(f"  Then {question.key} is taken as {band['value']}, {band['range']} to either side.")
    for key in question.estimated:
        quantity = _estimated(assumed).get(key)
        if quantity:
            say(f"  Then {key} is taken as {_shown(key, quantity)}.")
    if question.without:
        say(f"  {question.without}")


def _shown(key: str, quantity: Quantity) -> str:
    kind = kind_at(key) or "pure"
    value, low, high = (units.show(one, kind) for one in (quantity.value, quantity.low, quantity.high))
    spread = f"{low} to {high}, " if low != high else ""
    return f"{value} ({spread}rule: {quantity.rule})"


def _document(answers: Answers) -> dict[str, Any]:
    """Nested sections from dotted keys; a stage list has one stage here."""
    document: dict[str, Any] = {}
    for key, value in answers.items():
        *path, last = split(key)
        place: Any = document
        for step, after in zip(path, [*path, last][1:], strict=True):
            if isinstance(step, int):
                place.extend({} for _ in range(step + 1 - len(place)))
                place = place[step]
            else:
                place = place.setdefault(step, [] if isinstance(after, int) else {})
        place[last] = value
    return document


def _written(answers: Answers) -> str:
    """The answers as TOML, each section with what is estimated beside it."""
    document, estimates = _document(answers), _estimated(answers)
    lines = [f"# The rattle in neutral stops at {document[HEARD]} rpm."] if HEARD in document else []
    lines += [f"title = {leaf(document['title'])}"] if "title" in document else []
    for section in SECTIONS:
        keys = document.get(section, {})
        lines += ["", f"[{section}]"] if keys else []
        lines += [f"{key} = {leaf(value)}" for key, value in keys.items() if not is_table(value)]
        for key, quantity in estimates.items() if keys else ():
            if key.rpartition(".")[0] == section:
                lines.append(f'{key.rpartition(".")[2]} = "unknown"    # {_shown(key, quantity)}')
        lines += _below(section, keys)
    return "\n".join(lines) + "\n"


def _below(section: str, keys: dict[str, Any]) -> list[str]:
    """Sub-sections: [gearbox.ahead], [[plate.stages]]."""
    lines: list[str] = []
    for key, value in keys.items():
        if not is_table(value):
            continue
        for table in value if isinstance(value, list) else [value]:
            lines += ["", f"[[{section}.{key}]]" if isinstance(value, list) else f"[{section}.{key}]"]
            lines += [f"{name} = {leaf(inner)}" for name, inner in table.items()]
    return lines
