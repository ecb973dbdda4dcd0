"""Text that fits the screen: tables whose cells wrap, and lines that break between words."""

from __future__ import annotations

import re
import shutil
import textwrap
from collections.abc import Sequence

LEAST = 80  # columns; what a narrower or unknown screen gets too
HARD = "\N{NO-BREAK SPACE}"  # where no line breaks; shown as a space
GAP = 2
SOFT = "\N{ZERO WIDTH SPACE} "  # where a long word may break
# A number and its unit, and a unit of two words, stay together.
_TOGETHER = re.compile(r"(?<=[\d-]) (?=(?:%|N m/deg|N m|deg|rpm|kJ|W|mm|kg)(?![\w*/^]))|(?<=\bN) (?=m\b)")
_JOINT = re.compile(r"(?<=[a-z\]][._])(?=\w)")
_NUMBER = re.compile(r"([-\d][\d,.e+-]*( to -?[\d,.]+)?( \S+){0,2})?|-")
_GAPS = re.compile(r"\S {2,}(?=\S)")
_LABEL = re.compile(r" *(?:- |\S+(?: \S+)? {2,})")  # a bullet, or words before a wide gap


def screen_width() -> int:
    """Columns of the screen, 80 at the least."""
    return max(LEAST, shutil.get_terminal_size((LEAST, 24)).columns)


def folded(text: str, width: int = 0) -> str:
    """Every line of a text broken to the width, 0 that of the screen; what goes on stands in under its label."""
    return "\n".join(_folded_line(line, width or screen_width()) for line in text.split("\n"))


def _folded_line(line: str, width: int) -> str:
    if len(line) > width and len(_GAPS.findall(line)) < 2:  # a line of columns stays as it is
        label, own = _LABEL.match(line), len(line) - len(line.lstrip(" "))
        inside = own + GAP if own else 0
        inside = label.end() if label and label.end() < width // 2 else inside
        line = "\n".join(_wrapped(line, width, " " * inside))
    return line.replace(HARD, " ")


def _wrapped(text: str, width: int, inside: str = "") -> list[str]:
    """Broken between words; a word longer than a line, such as a key, behind its points and underscores."""
    whole = _TOGETHER.sub(HARD, text)
    if max(map(len, whole.split(" "))) > width:
        whole = _JOINT.sub(SOFT, whole)
    lines = textwrap.wrap(
        whole, max(width, 1), subsequent_indent=inside, break_long_words=False, break_on_hyphens=False
    )
    return [line.replace(SOFT, "").replace(SOFT[0], "") for line in lines] or [""]


def paragraph(text: str) -> str:
    """A text that is broken in the source, on one line."""
    return " ".join(text.split())


def text_table(rows: Sequence[Sequence[str]], indent: str = "  ", width: int = 0) -> str:
    """Rows under a heading row: the first column to the left, numbers to the right, a row of one cell across them all.

    As wide as needed, up to `width`, 0 that of the screen: then cells take several lines.
    """
    full = [row for row in rows if len(row) > 1]
    room = (width or screen_width()) - len(indent)
    widths = _fitted(full, room)
    right = [column > 0 and _numeric(full[1:], column) for column in range(len(widths))]
    lines = []
    for row in rows:
        lines += _lines(row, widths, right) if len(row) > 1 else ["", *_wrapped(row[0], room)]
        if row is full[0]:
            lines.append((" " * GAP).join("-" * one for one in widths))
    return "\n".join((indent + line).rstrip() for line in lines).replace(HARD, " ")


def _lines(row: Sequence[str], widths: Sequence[int], right: Sequence[bool]) -> list[str]:
    cells = [_wrapped(cell, one) for cell, one in zip(row, widths, strict=True)]
    made = []
    for place in range(max(map(len, cells))):
        parts = [cell[place] if place < len(cell) else "" for cell in cells]
        sides = zip(parts, widths, right, strict=True)
        made.append((" " * GAP).join(part.rjust(one) if to_right else part.ljust(one) for part, one, to_right in sides))
    return made


def _fitted(rows: Sequence[Sequence[str]], room: int) -> list[int]:
    """Widths of the columns: as the longest cell where there is room.

    Where there is not, heads wrap first, then the widest cells, then long words in them.
    """
    columns = [[_TOGETHER.sub(HARD, cell) for cell in column] for column in zip(*rows, strict=True)]
    widths = [max(map(len, column)) for column in columns]
    words = [_longest(column) for column in columns]
    bodies = [max(map(len, (*column[1:], ""))) for column in columns]
    parts = [_longest([_JOINT.sub(SOFT, cell) for cell in column]) for column in columns]
    room -= GAP * (len(widths) - 1)
    for floor in ([max(pair) for pair in zip(bodies, words, strict=True)], words, parts):
        while sum(widths) > room and (wide := [place for place, one in enumerate(widths) if one > floor[place]]):
            widths[max(wide, key=lambda place: widths[place])] -= 1
    return widths


def _longest(cells: Sequence[str]) -> int:
    return max(len(word) for cell in cells for word in cell.split(" "))


def _numeric(rows: Sequence[Sequence[str]], column: int) -> bool:
    return all(_NUMBER.fullmatch(row[column]) for row in rows)
