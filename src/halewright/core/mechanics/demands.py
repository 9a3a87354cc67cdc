"""What one option of a movement asks of a person, as numbers that a limit can be held against."""

from collections.abc import Mapping
from dataclasses import dataclass

from halewright.core.people.limits import Measure


@dataclass(frozen=True, slots=True, kw_only=True)
class Demands:
    """The demands of one option, for the side or sides that work.

    `left` and `right` hold the same measures for each side of the body; a movement done each side
    or by turns asks the same of both. A measure that is missing is zero. `load_known` is False
    until a tension has been computed from a measured band.
    """

    left: Mapping[Measure, float]
    right: Mapping[Measure, float]
    load_known: bool = False

    def most(self, measure: Measure) -> float:
        """Return the larger of the two sides' demand."""
        return max(self.left.get(measure, 0.0), self.right.get(measure, 0.0))
