"""What a report is made of: sections with words, tables, pictures, questions and cautions, in the order of reading."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import ClassVar

from markupsafe import Markup

Rows = list[list[str]]  # the first row is the heading
_BARE = re.compile(r"[-+±]?\d[\d.,]*(e[-+]?\d+)?( %)?\*?$")
_TIMES, _POWER = re.compile(r"(?<=[A-Za-z])\*(?=[A-Za-z])"), re.compile(r"(?<=[a-zA-Z])\^([23])")
_LARGE = re.compile(r"\b\d(?:\.\d+)?e\+\d+")


@dataclass(frozen=True)
class Text:
    """A paragraph."""

    kind: ClassVar = "text"
    words: str


@dataclass(frozen=True)
class Points:
    """A list."""

    kind: ClassVar = "points"
    items: tuple[str, ...]


@dataclass(frozen=True)
class Table:
    """rows: the first is the heading; the first column names the row. tight: cells stay on one line."""

    kind: ClassVar = "table"
    caption: str
    rows: Rows
    tight: bool = False

    @property
    def right(self) -> tuple[bool, ...]:
        """Columns of numbers, which stand to the right."""
        body = list(self.rows[1:])
        return tuple(
            column > 0 and any(row[column] for row in body) and all(_numeric(row[column]) for row in body)
            for column in range(len(self.rows[0]))
        )


@dataclass(frozen=True)
class Figure:
    """A picture: heading, what it shows in words, and the SVG itself. wide: over the whole width of the page."""

    heading: str
    words: str
    svg: Markup
    wide: bool = False


@dataclass(frozen=True)
class Pictures:
    """Pictures beside each other."""

    kind: ClassVar = "pictures"
    figures: tuple[Figure, ...]


@dataclass(frozen=True)
class Questions:
    """(question, answer)."""

    kind: ClassVar = "questions"
    pairs: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Notice:
    """Cautions: (heading, text)."""

    kind: ClassVar = "notice"
    items: tuple[tuple[str, str], ...]


Part = Text | Points | Table | Pictures | Questions | Notice


@dataclass(frozen=True)
class Section:
    """A heading and what stands under it."""

    heading: str
    parts: tuple[Part, ...]


def section(heading: str, *parts: Part | None) -> Section | None:
    """A section of those parts that say something; None where none does."""
    kept = tuple(part for part in parts if part is not None and _says(part))
    return Section(heading, kept) if kept else None


def _says(part: Part) -> bool:
    inside: Sequence[object] | str = {
        "text": lambda: part.words,
        "points": lambda: part.items,
        "table": lambda: part.rows[1:],
        "pictures": lambda: part.figures,
        "questions": lambda: part.pairs,
        "notice": lambda: part.items,
    }[part.kind]()  # type: ignore[union-attr]
    return bool(inside)


def _numeric(cell: str) -> bool:
    return not cell or bool(_BARE.match(cell))


def reworded(one: Section, words: Callable[[str], str], rows: Callable[[Rows], Rows]) -> Section:
    """A section with every text and table told anew; pictures keep what is drawn."""
    return Section(one.heading, tuple(_reworded(part, words, rows) for part in one.parts))


def _reworded(part: Part, words: Callable[[str], str], rows: Callable[[Rows], Rows]) -> Part:
    if isinstance(part, Text):
        return Text(words(part.words))
    if isinstance(part, Points):
        return Points(tuple(map(words, part.items)))
    if isinstance(part, Table):
        return replace(part, caption=words(part.caption), rows=rows(part.rows))
    if isinstance(part, Questions):
        return Questions(tuple((words(question), words(answer)) for question, answer in part.pairs))
    if isinstance(part, Notice):
        return Notice(tuple((words(heading), words(text)) for heading, text in part.items))
    return Pictures(tuple(replace(figure, words=words(figure.words)) for figure in part.figures))


def tidy(text: str) -> str:
    """Units and numbers as they are printed: N*m/deg -> N m/deg, kg*m^2 -> kg m², 6e+05 -> 600,000."""
    text = _LARGE.sub(lambda one: f"{float(one[0]):,.0f}", text)
    return _POWER.sub(lambda one: "²³"[int(one[1]) - 2], _TIMES.sub(" ", text)).replace("+-", "±")


def tidy_rows(rows: Rows) -> Rows:
    """A table with its units as they are printed."""
    return [[tidy(cell) for cell in row] for row in rows]
