"""What can be judged of one steady condition without anyone's document."""

from calmshaft.judgement.rules import judge
from calmshaft.judgement.verdicts import Judgement

__all__ = ["Judgement", "judge"]
