"""`new`: a commented line file to start from."""

from __future__ import annotations

from pathlib import Path

from calmshaft.commands.common import say
from calmshaft.condition import line_fault
from calmshaft.line import LINES, sample_line
from calmshaft.output import write_text
from calmshaft.places import into_file

HEAD = """# A line for calmshaft, begun from the invented line "{name}": put your own values in place of these.
# A value is a number with its unit in quotes, "92 mm" or "3 5/8 in"; or with its source and range:
#   inertia = {{ value = "0.45 kg*m^2", source = "measured", range = "4 %" }}
#   inertia = {{ value = "0.45 kg*m^2", source = "estimated", low = "0.43 kg*m^2", high = "0.52 kg*m^2" }}
# What you do not know: leave the key out, or write "unknown". It is then estimated by a named rule, with a range;
# `calmshaft check FILE` shows them, `calmshaft schema` says how each is measured.
"""


def new(name: Path, start: str) -> None:
    """Write a new line file; an existing file is never overwritten."""
    sample_line(start)  # refuses an unknown name with near matches
    refuse_unfit(name)
    body = (LINES / f"{start}.toml").read_text(encoding="utf-8")
    write_text(HEAD.format(name=start) + "\n" + body, name)
    say(f"{name} written. Next: edit it, then `calmshaft check {name}`.")


def refuse_unfit(name: Path) -> None:
    """Raises LineError where no line file can be written under that name."""
    if name.suffix != ".toml":
        raise line_fault("NAME", str(name), "must end in .toml", f"write {name}.toml")
    if name.exists():
        raise line_fault("NAME", str(name), "exists already", "choose another name; nothing was written")
    into_file(name, (".toml",), "NAME", "mine")
