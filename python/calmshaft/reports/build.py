"""From a line to its report: run, judge, draw, write. Judgement first, then what it rests on."""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from calmshaft import _core
from calmshaft.condition import Condition, line_fault
from calmshaft.judgement.cautions import CAUTIONS
from calmshaft.judgement.comparison import RPM, Comparison, Verdict, compare
from calmshaft.line import Line
from calmshaft.output import json_ready, write_text
from calmshaft.reports import imperial
from calmshaft.reports.contents import Worked, contents
from calmshaft.reports.letter import Letters, letters
from calmshaft.reports.parts import Questions, Section, reworded, tidy, tidy_rows
from calmshaft.reports.sureness import widths
from calmshaft.runs import usual_gear

UNITS = ("metric", "imperial")
WORDS = ("within", "near", "over", "not judged")


@dataclass(frozen=True)
class Report:
    """One line's report. html: one page without scripts or links to elsewhere. result: the same in plain values, SI;
    verdicts: those of the comparison behind it. letters: what is missing, and whom to ask for it."""

    html: str
    result: dict[str, Any]
    verdicts: tuple[Verdict, ...]
    letters: Letters = field(repr=False)

    def write(self, path: str | Path) -> tuple[Path, Path]:
        """The page at `path`, the plain data beside it under the same name in .json. Raises OSError; older files stay
        where one fails."""
        data = json.dumps(json_ready(self.result), indent=2, allow_nan=False)
        return write_text(self.html, path), write_text(data, Path(path).with_suffix(".json"))

    def write_letters(self, path: str | Path) -> Path:
        """The data letters at `path`: plain text for .txt, else a page. Raises OSError."""
        return write_text(self.letters.text() if Path(path).suffix == ".txt" else self.letters.html(), path)


def report(line: Line, notes: str = "", full: bool = False, threads: int = 0, units: str = "metric") -> Report:
    """Run a line over its speeds, healthy and with each cylinder dead, judge it and describe it.

    notes: a remark of the builder's, shown as written. full: every section of a technical report, with Holzer tables,
    orders, numbers over speed and all estimates; else two to four printed pages. units: "metric" or "imperial", of
    words, tables and pictures; the plain data stay in SI. Raises LineError as compare does.
    """
    if units not in UNITS:
        raise line_fault("units", units, "is not known here", f"write {' or '.join(UNITS)}")
    found = compare({line.title: line}, threads=threads)
    at = Condition(line.quantities["engine.idle_rpm"].value / RPM, usual_gear(line))
    tornado = widths(line, at, threads)
    made = _made(line, units)
    sections = contents(Worked(line, at, found, tornado, full, units == "imperial", threads, made))
    sections = [reworded(one, tidy, tidy_rows) for one in sections]
    if units == "imperial":
        sections = [imperial.section(one) for one in sections]
    html = page(line.title, notes, full, sections)
    asked = letters(line, tornado, units == "imperial")
    return Report(html, _result(line, found, sections, made), found.verdicts, asked)


def _made(line: Line, units: str) -> dict[str, str]:
    document = json.dumps(line.document, sort_keys=True)
    return {
        "calmshaft": _core.__version__,
        "line file": line.name,
        "SHA-256 of its values": hashlib.sha256(document.encode()).hexdigest(),
        "units shown": units,
        "made": datetime.now(UTC).strftime("%Y-%m-%d %H:%M UTC"),
    }


def _result(line: Line, found: Comparison, sections: list[Section], made: dict[str, str]) -> dict[str, Any]:
    parts = [part for one in sections for part in one.parts if isinstance(part, Questions)]
    return {
        "title": line.title,
        "verdicts": [one.as_dict() for one in found.verdicts],
        "answers": [{"question": one, "answer": answer} for part in parts for one, answer in part.pairs],
        "line": line.document,
        "values": {
            path: {"value": q.value, "low": q.low, "high": q.high, "source": q.source, "rule": q.rule}
            for path, q in line.quantities.items()
        },
        "made": made,
        "cautions": CAUTIONS,
    }


def page(title: str, notes: str, full: bool, sections: list[Section]) -> str:
    """A page of HTML that stands alone. full: with numbered headings."""
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    folder = Path(__file__).parent
    made = Environment(loader=FileSystemLoader(folder), autoescape=True, undefined=StrictUndefined, trim_blocks=True)
    return made.get_template("page.html").render(title=title, notes=notes, full=full, sections=sections, words=WORDS)
