"""The data letters: what is missing in a line, whom to ask for it, and what to measure oneself. Ready to send."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

from calmshaft import units
from calmshaft.judgement.entered import ENTERED
from calmshaft.line import Line
from calmshaft.page_text import folded
from calmshaft.reports import imperial
from calmshaft.reports.installation import part_rows
from calmshaft.reports.parts import tidy
from calmshaft.reports.sureness import UNITS, key_words
from calmshaft.schema_paths import kind_at
from calmshaft.uncertainties import Swing, Tornado
from calmshaft.uncertainties.ranges import how_to_measure, measurable
from calmshaft.wording import in_workshop_units, number

MATTERS = 0.02  # [-] of the answer: an estimate whose range moves it less is not asked for
LETTER_WIDTH = 80  # columns of the plain text
MOST = 12  # values asked of one maker
SOCIETY = "the class society, or whoever signs the calculation"
MAKERS = {
    "engine": "the maker of the engine",
    "flywheel": "the maker of the engine",
    "plate": "the maker of the damper plate",
    "gearbox": "the maker of the gearbox",
    "propeller": "the maker of the propeller",
    "mass_elastic": "the maker of the engine",
}
_LIMITS = {"gearbox": "gearbox", "unloaded": "gearbox", "application": "gearbox", "plate": "plate", "cyclic": "engine"}
_ALSO = {  # what is worth asking beyond estimates: key -> (maker, words)
    "plate.rated_torque": ("plate", "torque that the plate is made for, greatest and continuous alternating torque"),
    "plate.stop_angle": ("plate", "angle and torque at which its stops are reached, drive and coast"),
    "engine.max_shift_rpm": ("gearbox", "greatest speed at which the gearbox may be shifted"),
    "gearbox.rated_torque": ("gearbox", "rated torque at its input, and at which service"),
}


@dataclass(frozen=True)
class Letter:
    """One letter. to: whom. values: (what, as assumed, why); limits: what is asked for with its document."""

    to: str
    values: list[tuple[str, str, str]] = field(default_factory=list)
    limits: list[str] = field(default_factory=list)


@dataclass(frozen=True)
class Letters:
    """All letters of a line and the own worksheet: (what, as assumed, how to measure it), the widest first."""

    title: str
    parts: list[tuple[str, str]]
    letters: tuple[Letter, ...]
    worksheet: list[tuple[str, str, str]]

    def text(self) -> str:
        """Plain text, a page break between letters."""
        return folded(_rendered("letter.txt", self, escape=False), LETTER_WIDTH)

    def html(self) -> str:
        """One page of HTML, each letter on its own sheet."""
        return _rendered("letter.html", self, escape=True)


def letters(line: Line, found: Tornado, in_imperial: bool = False) -> Letters:
    """Who is asked for what. found: what each uncertain value moves."""

    def told(text: str) -> str:
        return imperial.words(tidy(text)) if in_imperial else tidy(text)

    swings = [one for one in found.swings if _matters(one, found)]
    made = []
    for to in dict.fromkeys([*MAKERS.values(), SOCIETY]):
        sections = [name for name, maker in MAKERS.items() if maker == to]
        asked = [one for one in swings if one.path.partition(".")[0] in sections][:MOST]
        values = [(key_words(one.path), told(_assumed(one)), told(_why(one, found))) for one in asked]
        values += [
            (words, "not known", "it is not judged")
            for key, (maker, words) in _ALSO.items()
            if maker in sections and key not in line.quantities
        ]
        limits = [
            f"{one.subject}: {one.meaning}"
            for key, one in ENTERED.items()
            if key not in line.limits and _maker_of_limit(key) == to
        ]
        if values or limits:
            made.append(Letter(to, values, limits))
    sheet = [
        (key_words(one.path), told(_assumed(one)), how_to_measure(one.path, one.quantity))
        for one in swings
        if measurable(one.path, one.quantity)
    ]
    parts = [(name, told(words)) for name, words in part_rows(line)]
    return Letters(line.title, parts, tuple(made), sheet)


def _matters(one: Swing, found: Tornado) -> bool:
    return one.quantity.source == "estimated" and one.width > MATTERS * abs(found.start)


def _maker_of_limit(key: str) -> str:
    return MAKERS.get(_LIMITS.get(key.partition("_")[0], ""), SOCIETY)


def _assumed(one: Swing) -> str:
    kind, quantity = kind_at(one.path) or "pure", one.quantity
    value, low, high = (units.show(each, kind) for each in (quantity.value, quantity.low, quantity.high))
    return f"{value} ({low} to {high})"


def _why(one: Swing, found: Tornado) -> str:
    width, unit = in_workshop_units(UNITS[found.measure], one.width)
    what = "the vibratory torque in the gear" if found.measure == "mesh_torque_vibratory" else "the rattle in neutral"
    return f"its range moves {what} by {number(width)} {unit}"


def _rendered(name: str, found: Letters, escape: bool) -> str:
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    made = Environment(
        loader=FileSystemLoader(Path(__file__).parent),
        autoescape=escape,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    return made.get_template(name).render(found=found)
