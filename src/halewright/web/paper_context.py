"""What is printed for a session, as templates show it."""

from dataclasses import dataclass

from halewright.core.people.group import Group
from halewright.core.people.person import LatexReaction, PersonId


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """What a crew must know about one person, and whom to ring."""

    name: str
    contacts: tuple[str, ...]
    facts: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cards:
    """The place, for the call, and a card for everybody who is expected."""

    place: tuple[tuple[str, str], ...]
    people: tuple[Card, ...]


def cards(group: Group, *, expected: tuple[PersonId, ...]) -> Cards:
    """Return the emergency cards of everybody who is expected."""
    venue = group.venue
    place = (
        ("Where", ", ".join(part for part in (venue.name, venue.address) if part)),
        ("Which door", venue.entrance or "not recorded"),
        ("Defibrillator", venue.defibrillator or "not recorded"),
        ("Phone signal", venue.phone_signal or "not recorded"),
    )
    people = []
    for person in group.people:
        if person.id not in expected:
            continue
        latex = {
            LatexReaction.IMMEDIATE: "reacts at once to latex",
            LatexReaction.SKIN: "skin reacts to latex",
        }.get(person.latex, "")
        reactions = ", ".join(part for part in (latex, *person.food_reactions) if part)
        facts = (
            ("Carries", person.medicines_carried),
            ("Reacts to", reactions),
            ("Hearing", person.hearing_needs),
            ("Sight", person.sight_needs),
        )
        people.append(
            Card(
                name=person.preferred_name,
                contacts=tuple(
                    f"{contact.name} ({contact.relation}) {contact.phone}"
                    for contact in person.contacts
                ),
                facts=tuple(fact for fact in facts if fact[1]),
            )
        )
    return Cards(place=place, people=tuple(people))
