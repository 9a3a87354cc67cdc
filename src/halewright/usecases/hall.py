"""What is on the hall screen: the session that the leader opened, or else a sample."""

from collections.abc import Mapping
from functools import cache
from pathlib import Path

from halewright.core.catalogue.movement import Catalogue, Movement, MovementId
from halewright.core.catalogue.words import Part, SetUp, Side, Sides
from halewright.core.session import hall
from halewright.core.session.timeline import Cue, CueKind, Event, EventKind, Timeline
from halewright.core.units import MINUTE_MS, SECOND_MS
from halewright.files import hall_document, movements
from halewright.usecases import sessions

_KEPT = Path("hall") / "document.json"


def show(*, document: hall.HallDocument, home: Path) -> None:
    """Put a session on the hall screen; screens in use take it up when theirs has ended."""
    hall_document.write(path=home / _KEPT, text=hall_document.to_json(document))


def shown(home: Path) -> bytes:
    """Return what is on the hall screen as JSON text: the session last shown, or the sample."""
    try:
        return (home / _KEPT).read_bytes()
    except FileNotFoundError:
        return _sample_text()


def sample(
    *, catalogue: Catalogue, figures: Mapping[MovementId, hall.HallFigure]
) -> hall.HallDocument:
    """Build a short session to try the screen with: three stations, twice round, ten minutes."""
    return hall.hall_document(
        timeline=sample_timeline(catalogue),
        catalogue=catalogue,
        figures=figures,
        title=hall.HallTitle.SAMPLE,
    )


@cache
def _sample_text() -> bytes:
    catalogue = movements.shipped()
    used = {event.movement for event in sample_timeline(catalogue).events if event.movement}
    pictures = sessions.figures(catalogue, used)
    return hall_document.to_json(sample(catalogue=catalogue, figures=pictures))


def sample_timeline(catalogue: Catalogue) -> Timeline:
    """Lay out the sample's events one after the other. Its lengths are common practice."""
    laid = _Laid()
    laid.add(EventKind.WELCOME, 20, say="Welcome. Sit tall with both feet flat.")
    for movement in _first(catalogue, part=Part.WARM_UP, count=2):
        laid.add(EventKind.WARM_UP, 45, movement=movement, say=movement.teaching.start)
    stations = _stations(catalogue)
    for round_number in (1, 2):
        for movement in stations:
            for side in _sides(movement):
                laid.add(EventKind.CHANGEOVER, 20, say=movement.teaching.set_up)
                laid.add(
                    EventKind.WORK,
                    40,
                    movement=movement,
                    round_number=round_number,
                    side=side,
                    say=movement.standard.how,
                )
        if round_number == 1:
            laid.add(EventKind.WATER, 30, say="Bands down. Have some water.")
    for movement in _first(catalogue, part=Part.COOL_DOWN, count=1):
        laid.add(EventKind.COOL_DOWN, 45, movement=movement, say=movement.teaching.start)
    laid.add(EventKind.CLOSE, 20, say="Take the band off before you stand. Well done.")
    return Timeline(
        slot_ms=max(10 * MINUTE_MS, laid.end_ms), events=tuple(laid.events), cues=tuple(laid.cues)
    )


class _Laid:
    """Events one after the other, with a cue at the start of each."""

    def __init__(self) -> None:
        self.events: list[Event] = []
        self.cues: list[Cue] = []
        self.end_ms = 0

    def add(
        self,
        kind: EventKind,
        length_s: int,
        *,
        say: str,
        movement: Movement | None = None,
        round_number: int | None = None,
        side: Side | None = None,
    ) -> None:
        start_ms, self.end_ms = self.end_ms, self.end_ms + length_s * SECOND_MS
        self.cues.append(Cue(at_ms=start_ms, kind=CueKind.GO, words=say))
        self.events.append(
            Event(
                kind=kind,
                start_ms=start_ms,
                end_ms=self.end_ms,
                title=movement.name if movement else kind.value,
                movement=movement.id if movement else None,
                round=round_number,
                side=side,
                set_up=movement.standard.set_up if movement else None,
            )
        )


def _first(catalogue: Catalogue, *, part: Part, count: int) -> tuple[Movement, ...]:
    return tuple(movement for movement in catalogue.values() if movement.part is part)[:count]


def _stations(catalogue: Catalogue) -> tuple[Movement, ...]:
    """Return one movement for each of three set-ups, so that the band has to move."""
    main = [movement for movement in catalogue.values() if movement.part is Part.MAIN]
    chosen: list[Movement] = []
    for set_up in (SetUp.UNDER_FEET, SetUp.ROUND_THIGHS, SetUp.NONE):
        with_it = (movement for movement in main if movement.standard.set_up is set_up)
        chosen.extend(list(with_it)[:1])
    return tuple(chosen)


def _sides(movement: Movement) -> tuple[Side, ...]:
    match movement.standard.sides:
        case Sides.BOTH:
            return (Side.BOTH,)
        case Sides.ALTERNATE:
            return (Side.ALTERNATE,)
        case Sides.EACH:
            return (Side.RIGHT, Side.LEFT)
