"""Options that several commands share, each with its help."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer


def _rpm(text: str) -> float:
    number = str(text).removesuffix("rpm").strip()
    try:
        return float(number)
    except ValueError:
        raise typer.BadParameter(f"{text!r} is not a speed; write a number of rpm, for instance 800") from None


LineName = Annotated[str, typer.Argument(metavar="LINE", help="line file, or name of a shipped line")]
Rpm = Annotated[float | None, typer.Option(parser=_rpm, metavar="RPM", help="mean crank speed; idle where not given")]
Gear = Annotated[str | None, typer.Option(help="ahead, neutral or astern; ahead where the line has a propeller")]
Misfiring = Annotated[str, typer.Option(help='"none", "3", "3+4" or "3@50%"')]
Load = Annotated[str, typer.Option(help='"under way", "tied up", "none", or a torque with its unit')]
Fuelling = Annotated[str, typer.Option(help="governed keeps the speed, fixed keeps the healthy engine's fuelling")]
Folder = Annotated[Path | None, typer.Option(help="folder for what is written; names begin with that of the line")]
Cases = Annotated[int, typer.Option(help="how many plausible lines are drawn, at the most")]
Seed = Annotated[int, typer.Option(help="another one draws other cases")]
Band = Annotated[bool, typer.Option("--band/--no-band", help="with the spread over plausible cases")]
Units = Annotated[str, typer.Option(help="metric or imperial")]
Json = Annotated[bool, typer.Option("--json", help="one JSON document, SI values")]
Jobs = Annotated[int, typer.Option(help="threads; 0: one a core", min=0)]

# uncertainty, match
Measure = Annotated[str | None, typer.Option(help="what is asked about, else what the teeth feel")]
Limit = Annotated[str | None, typer.Option(help='of that measure, with its unit: "50 N*m"')]
NeutralQuietAt = Annotated[str | None, typer.Option(help='where the rattle stops in neutral, "900 rpm"')]
AheadQuietAt = Annotated[str | None, typer.Option(help='where it stops ahead, "750 rpm"')]
IdleSwing = Annotated[
    str | None, typer.Option(help='greatest less least speed of a cycle at idle in neutral, "24 rpm" or "3 %"')
]
HeardTo = Annotated[str, typer.Option(help="how far off the heard speeds may be")]
SwingTo = Annotated[str, typer.Option(help="how far off the swing may be")]

# sweep
Vary = Annotated[list[str], typer.Option(help='"name = from to unit, N values", or a list; may be repeated')]
Together = Annotated[
    list[str] | None,
    typer.Option(help='"rpm, misfiring": their first values are one point, their second the next; may be repeated'),
]
Keep = Annotated[str, typer.Option(help='with plate.stiffness: "stop torque" or "travel" stays')]
Direction = Annotated[
    str | None, typer.Option(help='"up", "down" or "both": each point starts from its neighbour\'s end')
]

# compare
Plates = Annotated[list[Path] | None, typer.Option("--plate", help="plate file for the first line; may be repeated")]
Changes = Annotated[list[str] | None, typer.Option("--change", help='"key = value" in the first line; may be repeated')]
Faults = Annotated[
    list[str] | None,
    typer.Option(help='"none", "3", "3@50%"; may be repeated. Where not given: none, and each cylinder dead'),
]
Gears = Annotated[list[str] | None, typer.Option(help="may be repeated; ahead and neutral where not given")]
Speeds = Annotated[str, typer.Option(help='"800 to 2600, 37 values", or a list; steps of 25 rpm where not given')]
