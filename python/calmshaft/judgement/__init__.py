"""What can be judged of one steady condition without anyone's document."""

from calmshaft.judgement.rules import Judgement, judge

__all__ = ["Judgement", "judge"]
