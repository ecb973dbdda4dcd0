"""What stands in the short and in the full form, in the order that rules and makers ask for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from calmshaft import units
from calmshaft.condition import Condition
from calmshaft.judgement.comparison import RPM, Comparison
from calmshaft.line import Line
from calmshaft.quantity import Quantity
from calmshaft.reports import installation, judged, linear_view, plate_view, running, sureness
from calmshaft.reports.figures import Pictures as Drawn
from calmshaft.reports.formulas import formulas
from calmshaft.reports.parts import Figure, Pictures, Questions, Section, Table, Text, section
from calmshaft.runs import Run, steady
from calmshaft.schema_paths import kind_at
from calmshaft.uncertainties import Tornado, Uncertainty

FEW = 6  # estimates named in the short form


@dataclass(frozen=True)
class Worked:
    """What a report is made from; single runs are worked out once, when first asked for."""

    line: Line
    at: Condition
    found: Comparison
    tornado: Tornado
    full: bool
    imperial: bool
    threads: int
    made: Mapping[str, str]

    @property
    def rated(self) -> Condition:
        return self.at.with_(rpm=self.line.quantities["engine.rated_rpm"].value / RPM)

    @cached_property
    def idle_runs(self) -> dict[str, Run]:
        """At idle, all firing and cylinder 1 dead."""
        return {"all cylinders fire": steady(self.line, self.at), "cylinder 1 dead": steady(self.line, self.dead)}

    @cached_property
    def bands(self) -> Uncertainty | None:
        """Plausible cases at idle."""
        return sureness.bands(self.line, self.at, self.threads)

    @property
    def dead(self) -> Condition:
        return self.at.with_(misfiring="1")


def contents(it: Worked) -> list[Section]:
    """The sections of the form asked for; those with nothing to say are left out."""
    made = _full(it) if it.full else _short(it)
    return [one for one in made if one is not None]


def _short(it: Worked) -> list[Section | None]:
    line, draw, run = it.line, Drawn(it.line, it.imperial), it.idle_runs["all cylinders fire"]
    avoid = judged.avoided(line, it.found, it.threads)
    return [
        judged.judgement(line, it.found, full=False),
        _questions(it),
        judged.speeds(avoid, it.at.gear != "neutral"),
        judged.cautions(),
        section(
            "The line, its teeth, torque and plate",
            _pictures(
                draw.machinery(it.at),
                draw.teeth(it.found),
                draw.torque(it.idle_runs),
                draw.plate(it.found),
                draw.critical(wide=False),
            ),
            *running.plate_lives(run),
        ),
        installation.mass_elastic(line, it.at, _pictures(), full=False),
        linear_view.critical(line, it.at, _pictures()),
        sureness.prediction(it.tornado, it.bands, full=False),
        sureness.numerical(it.found, run),
        section("Inputs", _given(it), Text(_widest(it)), Text(_made_words(it))),
    ]


def _full(it: Worked) -> list[Section | None]:
    line, draw, run = it.line, Drawn(it.line, it.imperial), it.idle_runs["all cylinders fire"]
    in_gear = it.at.gear != "neutral"
    avoid = judged.avoided(line, it.found, it.threads)
    rated = steady(line, it.rated)
    linear = [*linear_view.by_order(line, it.at, run), *linear_view.by_order(line, it.rated, rated)]
    dead = linear_view.by_order(line, it.dead, it.idle_runs["cylinder 1 dead"])
    gears = ("neutral", "ahead") if in_gear else ("neutral",)
    return [
        judged.judgement(line, it.found, full=True),
        _questions(it),
        judged.cautions(),
        installation.installation(line, _pictures(draw.machinery(it.at))),
        installation.operating(line),
        installation.mass_elastic(line, it.at, _pictures(draw.system(it.at), draw.plate(it.found)), full=True),
        _method(it),
        linear_view.free_vibration(line, it.at),
        linear_view.critical(line, None, _pictures(draw.critical())),
        running.healthy(line, it.found, linear, _pictures(draw.teeth(it.found)), run),
        running.misfiring(
            line,
            it.found,
            [*plate_view.ladder(line, it.at, it.threads), *dead],
            _pictures(draw.torque(it.idle_runs), draw.orders(it.idle_runs)),
        ),
        plate_view.over_speed(line, plate_view.found_over_speed(line, it.threads), draw),
        plate_view.life(line, it.threads),
        sureness.prediction(it.tornado, it.bands, full=True),
        running.neutral(line, it.found, running.quiet(line, gears, it.threads)),
        judged.speeds(avoid, in_gear),
        sureness.measuring(it.tornado),
        sureness.numerical(it.found, run),
        _inputs(it),
        section("Formulas and symbols", formulas(line), _symbols()),
    ]


def _questions(it: Worked) -> Section | None:
    asked = judged.questions(it.line, it.found)
    pairs = [pair for part in (asked.parts if asked else ()) for pair in part.pairs]  # type: ignore[union-attr]
    return section("Questions", Questions((*pairs, *sureness.decided_by(it.tornado).items())))


def _pictures(*figures: Figure | None) -> Pictures:
    return Pictures(tuple(one for one in figures if one is not None))


def _method(it: Worked) -> Section | None:
    words = (
        "Rigid crank with its varying inertia; cylinder pressure from compression, a Wiebe burn and the fuelling that "
        "carries load and friction; free play, stages, dry friction and stops of the plate; gear teeth that part and "
        "strike; propeller by the square law with its own damping. Every speed is integrated until the motion repeats, "
        "or, where it never does, until its statistics stand. Left out: crank twist, mounts, bearings, hull, torque of "
        "the propeller's blades."
    )
    conditions = {"idle": it.at, "rated speed": it.rated, "idle, cylinder 1 dead": it.dead}
    keys = [path for path in it.line.quantities if "damping" in path or "hysteresis" in path or "friction" in path]
    rows = [["damping or friction", "value", "range", "source", "rule"]]
    rows += [_row(it, path, it.line.quantities[path]) for path in keys]
    return section(
        "Method, excitation and damping",
        Text(words),
        linear_view.excitation(it.line, conditions),
        Table("Damping and friction with their evidence", rows),
    )


def _row(it: Worked, path: str, one: Quantity) -> list[str]:
    kind = kind_at(path) or "pure"
    value, low, high = (units.show(each, kind) for each in (one.value, one.low, one.high))
    return [sureness.key_words(path), value, f"{low} to {high}" if low != high else "", one.source, one.rule or ""]


def _inputs(it: Worked) -> Section | None:
    estimated = _estimated(it)
    rows = [["value", "as taken", "range", "rule", "how to measure it"]]
    told: dict[str, str] = {}
    for path, one in estimated.items():
        key, value, spread, _, rule = _row(it, path, one)
        how = one.how_to_measure or ""
        rows.append([key, value, spread, rule, f"as {told[how]}" if how in told and len(how) > 60 else how])
        told.setdefault(how, key)
    return section(
        "Inputs",
        _given(it),
        Table(f"Assumed: {len(estimated)} values, the widest ranges first", rows),
        Text(_made_words(it)),
    )


def _given(it: Worked) -> Table:
    """What the line file gives, a row a section."""
    said: dict[str, list[str]] = {}
    for path, one in it.line.quantities.items():
        if one.source == "estimated":
            continue
        name, _, rest = sureness.key_words(path).partition(": ")
        _, value, spread, source, _ = _row(it, path, one)
        more = ", ".join(text for text in (spread, source if source != "given" else "") if text)
        said.setdefault(name, []).append(f"{rest or name} {value}" + (f" ({more})" if more else ""))
    return Table(
        "Given",
        [
            ["part", "values, with range and source where said"],
            *([name, "; ".join(values)] for name, values in said.items()),
        ],
    )


def _estimated(it: Worked) -> dict[str, Quantity]:
    """The widest first."""
    found = [(path, one) for path, one in it.line.quantities.items() if one.source == "estimated"]
    return dict(sorted(found, key=lambda entry: -(entry[1].high - entry[1].low) / (abs(entry[1].value) or 1)))


def _widest(it: Worked) -> str:
    """The estimates in one sentence."""
    estimated = _estimated(it)
    if not estimated:
        return "Nothing is estimated."
    few = [
        f"{key} {value} ({spread})"
        for key, value, spread, *_ in (_row(it, path, one) for path, one in list(estimated.items())[:FEW])
    ]
    return (
        f"Assumed: {len(estimated)} values are estimated, the widest ranges {'; '.join(few)}. The full form and "
        "`calmshaft check` have all of them with the rule behind each and how to measure it."
    )


def _made_words(it: Worked) -> str:
    made = it.made
    return (
        f"Made by calmshaft {made['calmshaft']} from {made['line file']} on {made['made']}; SHA-256 of its values "
        f"{made['SHA-256 of its values']}. The same in plain data, SI: the file of this name that ends in .json."
    )


def _symbols() -> Table:
    rows = [
        ["word", "meaning"],
        ["order", "events per turn of the crank; half orders exist in a four-stroke engine"],
        ["vibratory torque", "half range of the synthesis of orders 0.5 to 12, on top of the mean"],
        [
            "ripple, peak to peak",
            "greatest less least over the period; half range is half of it, tooth impacts included",
        ],
        ["synthesis", "sum of the orders in time, not of their amplitudes"],
        ["irregularity", "greatest less least flywheel speed over its mean"],
        ["hysteresis, full width", "gap between winding up and unwinding, twice the friction torque"],
        ["free play, backlash", "whole width, both directions"],
        ["twist", "from the middle of the free play, positive where the engine drives"],
    ]
    return Table("Words", rows)
