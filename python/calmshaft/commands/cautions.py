"""`cautions`: all that goes with every judgement."""

from __future__ import annotations

from calmshaft.commands.common import say
from calmshaft.judgement.cautions import CAUTIONS


def say_cautions() -> None:
    """Heading and text of each caution."""
    for heading, text in CAUTIONS.items():
        say(f"{heading}\n  {text}")
