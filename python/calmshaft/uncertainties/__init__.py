"""How sure an answer is: cases drawn from the ranges of a line's values, and which value matters most."""

from calmshaft.uncertainties.bands import Band, PastLimit
from calmshaft.uncertainties.influence import Influence
from calmshaft.uncertainties.monte_carlo import MeasureNext, Uncertainty, uncertainty
from calmshaft.uncertainties.tornado import Swing, Tornado, tornado

__all__ = ["Band", "Influence", "MeasureNext", "PastLimit", "Swing", "Tornado", "Uncertainty", "tornado", "uncertainty"]
