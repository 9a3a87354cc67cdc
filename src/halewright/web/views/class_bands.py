"""Who has which band and where to grip it, and one person's card for one movement."""

from collections.abc import Mapping

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.timezone import localdate
from django.views.decorators.http import require_safe

from halewright.core.catalogue.movement import MovementId
from halewright.core.catalogue.words import OptionKind
from halewright.core.errors import NoSuchSession
from halewright.core.people.kit import BandLabel
from halewright.core.people.person import Person
from halewright.files import movements
from halewright.store import queries
from halewright.usecases import cautions, class_bands, load_card, sessions
from halewright.web import access, band_cautions, band_forms, bands_context, block_context

_AIMS = class_bands.Aims()


@require_safe
def class_sheet(request: HttpRequest, plan_id: int, week: int, number: int) -> HttpResponse:
    """Who has which band, and where does each grip it?"""
    visit = access.visit(request, may=access.May.RUN, plan=plan_id)
    try:
        outline = sessions.outline(queries.read(visit.its_plan), week=week, session=number)
    except NoSuchSession as error:
        raise Http404 from error
    whole = queries.whole(visit.its_group)
    aims = _aims(request.GET)
    sheet = class_bands.for_session(whole, outline, aims=aims)
    page = {
        "visit": visit,
        "group": visit.its_group,
        "plan": visit.its_plan,
        "session": block_context.session_page(outline, group=whole, catalogue=movements.shipped()),
        "purpose": outline.purpose.value,
        "sheet": bands_context.class_page(sheet, group=whole, on=outline.on, leads=visit.leads),
        "aims": [
            ("gentler", "Gentler", f"{aims.gentler_n:g}"),
            ("standard", "Standard", f"{aims.standard_n:g}"),
            ("stronger", "Stronger", f"{aims.stronger_n:g}"),
        ],
        "measuring": False,
        "band_cautions": band_cautions.USING,
    }
    return render(request, "web/bands/class_sheet.html", page)


@require_safe
def card(request: HttpRequest, group_id: int, key: str, movement: str, way: str) -> HttpResponse:
    """What does this band ask of this person in this movement, and where in the range?"""
    visit = access.visit(request, may=access.May.LEAD, group=group_id, person=key)
    whole = queries.whole(visit.its_group)
    person = next((each for each in whole.people if each.id == key), None)
    meant = movements.shipped().get(MovementId(movement))
    option = next((each for each in meant.options if each.kind == way), None) if meant else None
    if person is None or meant is None or option is None or not option.paths:
        raise Http404
    asked = _asked(request.GET, person=person, movement=meant.id, way=option.kind)
    found = load_card.card(
        group=whole,
        person=person,
        outcome=cautions.outcomes(whole, on=localdate())[person.id],
        movement=meant,
        option=option,
        asked=asked,
        on=localdate(),
    )
    grip_cm = "" if asked.grip_length_m is None else f"{asked.grip_length_m * 100:g}"
    page = {
        "visit": visit,
        "group": visit.its_group,
        "key": key,
        "name": person.preferred_name,
        "card": bands_context.card_page(found, movement=meant, option=option, grip_cm=grip_cm),
        "measuring": False,
        "band_cautions": band_cautions.USING,
    }
    return render(request, "web/bands/card.html", page)


def _aims(sent: Mapping[str, str]) -> class_bands.Aims:
    return class_bands.Aims(
        gentler_n=band_forms.newtons(sent.get("gentler", ""), otherwise=_AIMS.gentler_n),
        standard_n=band_forms.newtons(sent.get("standard", ""), otherwise=_AIMS.standard_n),
        stronger_n=band_forms.newtons(sent.get("stronger", ""), otherwise=_AIMS.stronger_n),
    )


def _asked(
    sent: Mapping[str, str], *, person: Person, movement: MovementId, way: OptionKind
) -> load_card.Asked:
    label = sent.get("band", "")
    aim_n = _AIMS.target_n(person=person.id, movement=movement, option=way)
    return load_card.Asked(
        band=BandLabel(label) if label else None,
        aim_n=band_forms.newtons(sent.get("aim", ""), otherwise=aim_n),
        grip_length_m=band_forms.grip_m(sent.get("grip", "")),
    )
