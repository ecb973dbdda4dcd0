"""How sure an answer is: cases drawn from the ranges of a line's values, and which value matters most."""

from calmshaft.uncertainties.tornado import Swing, Tornado, tornado

__all__ = ["Swing", "Tornado", "tornado"]
