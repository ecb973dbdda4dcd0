"""From a line to its report: run, judge, draw, write. Judgement first, then what it rests on."""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from calmshaft import _core, units
from calmshaft.condition import Condition
from calmshaft.judgement.comparison import RPM, Comparison, Verdict, compare, fire_evenly
from calmshaft.line import Line
from calmshaft.linear.modal import modes
from calmshaft.output import json_ready, write_text
from calmshaft.quantity import Quantity
from calmshaft.reports.answers import answers
from calmshaft.reports.figures import figures
from calmshaft.runs import condition_text, cylinders, prepared, usual_gear
from calmshaft.schema_paths import kind_at
from calmshaft.summary import coupling_rows, mode_rows, station_rows
from calmshaft.wording import number

if TYPE_CHECKING:
    from jinja2 import Template

CAUTIONS = (
    "This is a study aid. It approves nothing: the makers of engine, gearbox and plate, the class society, local codes "
    "and licensed practice decide. A change of damper, propeller, ratio or engine may end an approval or a warranty.",
    "The results are no better than the inputs. Estimated values are marked; read their ranges.",
    "Where teeth part, peak torques depend on contact stiffness and restitution that nobody knows well: go by whether "
    "they part and for how long.",
    "Rotating parts kill. Isolate the battery, hold the fuel stop, lock the shaft; refit every guard before running, "
    "and never run with an open bell housing, missing springs or wrong bolts. Do not crank an engine that is locked.",
    "With a misfiring cylinder reduce load, keep the compression, watch temperatures, and find the cause.",
    "Never change an idle or speed limit on this page's word alone.",
)


@dataclass(frozen=True)
class Report:
    """One line's report. html: one page without scripts or links to elsewhere. result: the same in plain values;
    verdicts: those of the comparison behind it."""

    html: str
    result: dict[str, Any]
    verdicts: tuple[Verdict, ...]

    def write(self, path: str | Path) -> tuple[Path, Path]:
        """The page at `path` and result.json beside it. Raises OSError; older files stay where one fails."""
        data = json.dumps(json_ready(self.result), indent=2, allow_nan=False)
        return write_text(self.html, path), write_text(data, Path(path).with_name("result.json"))


def report(line: Line, notes: str = "", full: bool = False, threads: int = 0) -> Report:
    """Run a line over its speeds, healthy and with each cylinder dead, judge it and describe it.

    notes: a remark of the builder's, shown as written. full: with every estimate and how it is measured; else the
    widest twelve. Raises LineError as compare does.
    """
    found = compare({line.title: line}, threads=threads)
    at = Condition(line.quantities["engine.idle_rpm"].value / RPM, usual_gear(line))
    drawn = figures(line, at, found)
    page = {
        "title": line.title,
        "notes": notes,
        "verdicts": found.verdicts,
        "answers": answers(line, found),
        "figures": drawn,
        "condition": condition_text(at),
        "tables": _tables(line, at),
        "given": [_row(path, one) for path, one in line.quantities.items() if one.source != "estimated"],
        "assumed": _assumed(line, full),
        "estimated": sum(one.source == "estimated" for one in line.quantities.values()),
        "cautions": CAUTIONS,
        "made": _made(line),
        "full": full,
        "alike": fire_evenly(line),
        "number": number,
    }
    return Report(_template().render(page), _result(line, found, page), found.verdicts)


def _tables(line: Line, at: Condition) -> dict[str, list[list[str]]]:
    system = _core.mass_elastic_system(prepared(line), at.core(cylinders(line)))
    return {
        "Stations": station_rows(system),
        "Couplings": coupling_rows(system),
        "Natural frequencies": mode_rows(modes(line, at), line),
    }


def _row(path: str, one: Quantity) -> dict[str, str]:
    kind = kind_at(path) or "pure"
    value, low, high = (units.show(each, kind) for each in (one.value, one.low, one.high))
    return {
        "key": path,
        "value": value,
        "range": f"{low} to {high}" if low != high else "",
        "source": one.source,
        "rule": one.rule or "",
        "measure": one.how_to_measure or "",
    }


def _assumed(line: Line, full: bool) -> list[dict[str, str]]:
    """Estimates, the widest first."""
    estimated = [(path, one) for path, one in line.quantities.items() if one.source == "estimated"]
    estimated.sort(key=lambda entry: -(entry[1].high - entry[1].low) / (abs(entry[1].value) or 1.0))
    return [_row(path, one) for path, one in (estimated if full else estimated[:12])]


def _made(line: Line) -> dict[str, str]:
    document = json.dumps(line.document, sort_keys=True)
    return {
        "calmshaft": _core.__version__,
        "line file": line.name,
        "SHA-256 of its values": hashlib.sha256(document.encode()).hexdigest(),
        "made": datetime.now(UTC).strftime("%Y-%m-%d %H:%M UTC"),
    }


def _result(line: Line, found: Comparison, page: dict[str, Any]) -> dict[str, Any]:
    return {
        "title": line.title,
        "verdicts": [one.as_dict() for one in found.verdicts],
        "answers": [{"question": one.question, "answer": one.answer} for one in page["answers"]],
        "line": line.document,
        "values": {path: {"value": q.value, "low": q.low, "high": q.high, "source": q.source, "rule": q.rule}
                   for path, q in line.quantities.items()},
        "made": page["made"],
        "cautions": list(CAUTIONS),
    }  # fmt: skip


def _template() -> Template:
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    folder = Path(__file__).parent
    made = Environment(loader=FileSystemLoader(folder), autoescape=True, undefined=StrictUndefined, trim_blocks=True)
    return made.get_template("page.html")
