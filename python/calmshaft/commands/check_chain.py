"""`check` of a file that holds a maker's mass-elastic table and no engine: what can be said without one."""

from __future__ import annotations

import math
from pathlib import Path

from calmshaft import Chain, modes, units
from calmshaft.commands.common import say, say_json
from calmshaft.line_file import read
from calmshaft.linear.tables import chain_of
from calmshaft.page_text import text_table
from calmshaft.wording import number


def chain_alone(name: str) -> Chain | None:
    """The chain of a file with a table and without an engine; None for any other name. Raises LineError."""
    if not Path(name).exists():
        return None
    document, source = read(name)
    return chain_of(document, source) if "mass_elastic" in document and "engine" not in document else None


def check_chain(chain: Chain, as_json: bool) -> None:
    """Print stations, joints and natural frequencies of a chain."""
    found = modes(chain)
    if as_json:
        say_json(
            {
                "chain": vars(chain),
                "modes": {"frequency_hz": found.frequency_hz, "shapes": found.shapes, "words": found.words},
            }
        )
        return
    say("A mass-elastic table without an engine: natural frequencies can be told, torques cannot.")
    say("\nStations (each inertia in its own shaft's frame)")
    rows = zip(chain.names, chain.inertias, chain.speed_ratios, strict=True)
    heads = ["station", "inertia [kg m^2]", "own speed over the first's"]
    say(text_table([heads, *([name, f"{inertia:.4g}", f"{ratio:.4g}"] for name, inertia, ratio in rows)]))
    say("\nJoints")
    say(text_table([["from", "to", "what it is"], *_joints(chain)]))
    say("\nNatural frequencies")
    heads = ["what swings", "frequency [Hz]", "vibrations a minute"]
    told = zip(found.words, found.frequency_hz, found.angular_frequency, strict=True)
    say(text_table([heads, *([word, f"{hertz:.1f}", number(60 * omega / math.tau)] for word, hertz, omega in told)]))


def _joints(chain: Chain) -> list[list[str]]:
    pairs = zip(chain.names, chain.names[1:], chain.stiffnesses, strict=False)
    kind = "torsional stiffness"
    return [[one, other, "gear pair" if k is None else units.show(k, kind)] for one, other, k in pairs]
