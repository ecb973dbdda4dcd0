"""The front of the report: what was judged, in one table, what could not be, and speeds to avoid."""

from __future__ import annotations

from calmshaft.condition import Condition
from calmshaft.judgement.cautions import CAUTIONS
from calmshaft.judgement.comparison import ALL_FIRE, RPM, Comparison, Verdict, cases_of
from calmshaft.judgement.verdicts import CRANK
from calmshaft.line import Line
from calmshaft.reports.answers import answers
from calmshaft.reports.parts import Notice, Points, Questions, Section, Table, Text, section
from calmshaft.runs import fire_evenly
from calmshaft.speeds_to_avoid import SpeedsToAvoid, avoid_in
from calmshaft.wording import listed, number

ORDER = ("over", "near", "within")
CALCULATED = "Calculated, not measured; between the speeds that were worked out it may begin earlier."


def judgement(line: Line, found: Comparison, full: bool) -> Section | None:
    """What decides first, then everything judged, then what is not and why. Short: of what was judged in several gears
    the one nearest to its limit."""
    return section(
        "Judgement",
        Text(conclusion(found)),
        Table(
            "Judged, the worst first: the number and speed that decide, beside the limit",
            _rows(found, full),
            tight=True,
        ),
        Text(_how(line)),
        Points(tuple(not_judged(found))),
    )


def conclusion(found: Comparison) -> str:
    """One paragraph."""
    judged = {word: [one for one in found.verdicts if one.word == word] for word in (*ORDER, "not judged")}
    said = [_beside(word, judged[word]) for word in ("over", "near") if judged[word]]
    if not said:
        within = "Everything that could be judged is within its limit."
        said.append(within if judged["within"] else "Nothing was judged.")
    open_ones = dict.fromkeys(one.subject for one in judged["not judged"] if one.matters)
    said += [f"Not judged, and it matters: {listed(list(open_ones))}."] if open_ones else []
    return " ".join(said)


def _beside(word: str, verdicts: list[Verdict]) -> str:
    """ "Over the limit with all cylinders firing: ...; with one dead: the same and ..."."""
    cases: dict[str, list[str]] = {}
    for one in verdicts:
        names = cases.setdefault(one.cylinders, [])
        names += [one.subject] if one.subject not in names else []
    told = [f"{'all cylinders firing' if case == ALL_FIRE else case}: {listed(names)}" for case, names in cases.items()]
    if len(cases) > 1 and len({tuple(sorted(names)) for names in cases.values()}) == 1:
        told = [f"all firing and {listed([case for case in cases if case != ALL_FIRE])} alike: {listed(names)}"
                for names in [next(iter(cases.values()))]]  # fmt: skip
    return f"{word.capitalize()} the limit, {'; '.join(told)}."


def _rows(found: Comparison, full: bool) -> list[list[str]]:
    judged = [one for one in found.verdicts if one.word in ORDER]
    if not full:
        judged.sort(key=lambda one: -one.value / one.limit)
        judged = list({(one.subject, one.cylinders): one for one in reversed(judged)}.values())[::-1]
    judged.sort(key=lambda one: ORDER.index(one.word))
    rows = [["what", "gear, cylinders", "judgement", "deciding number and speed", "limit", "margin"]]
    for one in judged:
        cylinders = f"{one.cylinders}, {one.cylinder}" if one.cylinder else one.cylinders
        limit = f"{one.limit_words} ({one.document})" if one.document else one.limit_words
        rows.append([one.subject, f"{one.gear}, {cylinders}", one.word, one.finding, limit, one.margin_words])
    return rows


def _how(line: Line) -> str:
    alike = "any of them, since they fire evenly and the crank is taken as rigid" if fire_evenly(line) else "the worst"
    return (
        "Teeth and rattle: share of time out of contact; at idle means up to 1.2 times idle speed, under way above it. "
        f"One dead: {alike}, with governed fuelling; speeds that ask for more fuel than at rated torque are left out. "
        "Where no document is named the limit is the line's own."
    )


def not_judged(found: Comparison) -> list[str]:
    """Each once, with the reason; the crank always."""
    said: dict[tuple[str, str], list[str]] = {}
    for one in found.verdicts:
        if one.word == "not judged":
            case = "" if one.subject == CRANK else f"{one.gear}, {one.cylinders}"
            said.setdefault((one.subject, one.finding), []).append(case)
    every = {case for cases in said.values() for case in cases if case and len(cases) > 1}
    return [
        f"{subject[0].upper()}{subject[1:]}: not judged, {finding}{_where(cases, every)}."
        for (subject, finding), cases in said.items()
    ]


def _where(cases: list[str], every: set[str]) -> str:
    kept = [case for case in cases if case]
    return f" ({'; '.join(kept)})" if kept and len(kept) < len(every) else ""


def questions(line: Line, found: Comparison) -> Section | None:
    """What every builder asks."""
    return section("Questions", Questions(tuple((one.question, one.answer) for one in answers(line, found))))


def cautions() -> Section | None:
    """All of them."""
    return section("Cautions", Notice(tuple(CAUTIONS.items())))


def avoided(line: Line, found: Comparison, threads: int = 0) -> list[SpeedsToAvoid]:
    """Speeds from idle on at which something ahead is over its limit."""
    ds = found.datasets.get((line.title, "ahead"))
    if ds is None:
        return []
    running = ds.sel(rpm=ds.rpm >= line.quantities["engine.idle_rpm"].value / RPM - 0.5)
    at = Condition(float(running.rpm[0]), "ahead")
    return list(avoid_in(line, at, running, cases_of(line, None), threads))


def speeds(avoid: list[SpeedsToAvoid], in_gear: bool) -> Section | None:
    """The table of speeds to avoid."""
    rows = [["cylinders", "from [rpm]", "to [rpm]", "why"]]
    rows += [[one.cylinders, number(one.low), number(one.high), listed(one.reasons)] for one in avoid]
    none = "Ahead no speed from idle on has anything over its limit." if in_gear and not avoid else ""
    passing = (
        "Go through such a range quickly and do not stay in it; mark it on the tachometer once a measurement has "
        "confirmed it. A barred range under a class rule is for the society to set."
    )
    return section(
        "Speeds to avoid",
        Table("Ahead, governed fuelling", rows),
        Text(none),
        Text(f"{CALCULATED} {passing}" if avoid else ""),
    )
