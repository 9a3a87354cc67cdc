"""Errors and problems whose words can be shown to a leader.

HalewrightError
├── BadInput            one or more Problems in files or forms; nothing was saved
├── UnknownMovement     a plan or file names a movement that the catalogue lacks
├── NoSuchSession       a week and session number outside the block
└── (further errors are defined beside the function that raises them)
"""

from dataclasses import dataclass


class HalewrightError(Exception):
    """The base of every error that a person may be shown; `str()` is a plain sentence."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One thing that could not be understood: where it is, what was read, how to mend it.

    `row` counts from 1 as a spreadsheet shows it (headings are row 1). `None` or "" where the
    place has no such part (a TOML file has no sheet; a missing file has no row).
    """

    file: str
    read: str
    mend: str
    sheet: str | None = None
    row: int | None = None
    column: str | None = None

    def sentence(self) -> str:
        """Return the problem as one line: place, what was read, how to mend it."""
        place = [self.file]
        if self.sheet:
            place.append(f"sheet {self.sheet}")
        if self.row is not None:
            place.append(f"row {self.row}")
        if self.column:
            place.append(f"column {self.column}")
        return f"{', '.join(place)}: read “{self.read}”. {self.mend}"


class BadInput(HalewrightError):
    """Raised with every problem found at once; nothing has been saved."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        """Keep all problems; the message is their sentences, a line each."""
        self.problems = problems
        super().__init__("\n".join(problem.sentence() for problem in problems))


class UnknownMovement(HalewrightError):
    """A movement identifier that the catalogue in use does not have."""

    def __init__(self, movement: str) -> None:
        """Say which movement is missing and what can be done."""
        self.movement = movement
        super().__init__(
            f"The catalogue has no movement “{movement}”. Plan again with this catalogue, "
            "or add the movement's file."
        )


class NoSuchSession(HalewrightError):
    """A week or session number that the block does not hold."""

    def __init__(self, *, week: int, session: int, weeks: int) -> None:
        """Name what was asked for and what there is."""
        super().__init__(
            f"The block has no session {session} in week {week}. It has {weeks} weeks; "
            "weeks and sessions are counted from 1, and dates without a session are left out."
        )
