from dataclasses import replace
from datetime import date

from tests import stories
from tests.fakes.loads import LOAD

from halewright.core.catalogue.movement import MovementId
from halewright.core.catalogue.words import OptionKind
from halewright.core.mechanics.assignment import Grip
from halewright.core.people.kit import BandLabel, Shape
from halewright.core.people.person import PersonId
from halewright.core.screening.verdict import Fit, Reason, Verdict
from halewright.usecases.class_bands import ClassSheet, PersonBands, StationLoad
from halewright.web import bands_context

ON = date(2026, 12, 1)


def _sheet(**changes: object) -> ClassSheet:
    grip = Grip(
        label=BandLabel("thin"),
        strands=1,
        grip_length_m=0.62,
        peak_n=21.0,
        stretch_start_ratio=1.2,
        stretch_end_ratio=1.5,
        cost_points=0.0,
        does_it=True,
    )
    station = StationLoad(
        number=1,
        movement=MovementId("pull-apart"),
        option=OptionKind.STANDARD,
        shape=Shape.STRIP,
        target_n=21.0,
        limit_n=25.0,
        grip=grip,
        nearest=None,
        load=LOAD,
        codes=(),
        verdict=Verdict(fit=Fit.SUITABLE),
    )
    person = PersonBands(
        person=PersonId("ada"),
        name="Ada",
        stature_known=True,
        bands={Shape.STRIP: BandLabel("thin")},
        better=(),
        stations=(replace(station, **changes),),  # type: ignore[arg-type]
    )
    return ClassSheet(people=(person,), latex_free=True, limit_ratio=3.0, unmeasured=(), retired=())


def _line(*, leads: bool, **changes: object) -> bands_context.GripLine:
    page = bands_context.class_page(
        _sheet(**changes), group=stories.four_chairs(), on=ON, leads=leads
    )
    return page.people[0].lines[0]


def test_a_leader_reads_the_limit_and_an_assistant_does_not() -> None:
    """Up to 24.9 N within at most 25 N: said to the leader, nothing to say to the assistant."""
    assert _line(leads=True).within == "within the limit of 25 N"
    assert _line(leads=False).within == ""


def test_a_range_that_passes_the_limit_asks_to_watch() -> None:
    """Both are told what to do; only the leader is told which limit."""
    leader, assistant = (_line(leads=leads, limit_n=24.0) for leads in (True, False))

    assert (leader.watch, assistant.watch) == (True, True)
    assert "may pass the limit of 24 N" in leader.within
    assert "24" not in assistant.within
    assert "grip longer or watch closely" in assistant.within
    assert leader.aloud == assistant.within


def test_nothing_of_a_limit_is_printed() -> None:
    """A printed sheet lies about in the hall: within a limit there is nothing to say on it."""
    assert _line(leads=True).aloud == ""


def test_what_is_not_suitable_is_said_without_the_reason() -> None:
    """The sheet lies about in the hall: it says what to do, never why."""
    verdict = Verdict(
        fit=Fit.NOT_SUITABLE, reasons=(Reason(words="Left shoulder.", source="Nell Byrne"),)
    )

    line = _line(leads=True, verdict=verdict)

    assert "not suitable for this person" in line.within
    assert "shoulder" not in line.within


def test_a_band_to_watch_is_named_on_the_sheet() -> None:
    """No check of the band handed out is recorded: that stands above the names."""
    page = bands_context.class_page(_sheet(), group=stories.four_chairs(), on=ON, leads=True)

    assert any(words.startswith("thin: No check is recorded") for words in page.worn)
