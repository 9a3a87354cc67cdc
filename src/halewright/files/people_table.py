"""The people of a group in a table: one row each, from any spreadsheet, and back to csv."""

import re
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import TypeVar

from halewright.core.people.person import (
    Birth,
    EmergencyContact,
    LatexReaction,
    Person,
    PersonId,
    Sex,
    Standing,
    Weekday,
)
from halewright.files import choices, headings, quantities, records, tables, told_limits

T = TypeVar("T")

_MOST_CONTACTS = 4
_STEMS = ("Emergency contact", "Next of kin", "NOK")
_PHONE = re.compile(r"^[+(]?[\d() \-]{5,20}$")

_FIELDS = (
    headings.Field(key="id", names=("Id", "Person id", "Number", "No", "Ref", "Reference",
                                    "Member number", "Membership number", "Code")),
    headings.Field(key="name", names=("Preferred name", "Known as", "Likes to be called",
                                      "Calls themselves", "Goes by"),
                   weak=("First name", "Forename", "Given name", "Name", "Full name",
                         "Participant", "Person", "Member")),
    headings.Field(key="born", names=("Born", "Date of birth", "DOB", "D.O.B.", "Birth date",
                                      "Birthday", "Year of birth", "Birth year", "YOB")),
    headings.Field(key="sex", names=("Sex", "Sex for test norms", "Gender", "M/F", "F/M")),
    headings.Field(key="stature", names=("Stature", "Height", "Ht", "How tall"),
                   units=("m", "cm", "ft", "in")),
    headings.Field(key="mass", names=("Mass", "Weight", "Wt", "Body mass", "Body weight"),
                   units=("kg", "lb", "st")),
    headings.Field(key="latex", names=("Latex reaction", "Latex", "Latex allergy",
                                       "Reaction to latex", "Rubber allergy")),
    headings.Field(key="foods", names=("Food reactions", "Food allergies", "Food allergy",
                                       "Food cross-reactions", "Reacts to foods", "Foods")),
    headings.Field(key="standing", names=("Standing", "May stand", "Can stand",
                                          "Standing support", "Support for standing", "Stands")),
    headings.Field(key="hearing", names=("Hearing", "Hearing needs", "Hearing aid",
                                         "Hearing aids")),
    headings.Field(key="sight", names=("Sight", "Sight needs", "Vision", "Eyesight", "Eyes")),
    headings.Field(key="print", names=("Print size", "Print", "Font size", "Large print",
                                       "Text size"), units=("pt",)),
    headings.Field(key="days", names=("Days", "Comes on", "Days they come", "Attends", "Which days",
                                      "Sessions")),
    headings.Field(key="joined", names=("Joined", "Joined on", "Joins on", "Joining date",
                                        "Start date", "Started", "Starts on")),
    headings.Field(key="away", names=("Away", "Absences", "Holidays", "Holiday", "Dates away")),
    headings.Field(key="limits", names=("Limits", "Must avoid", "Avoid", "Restrictions",
                                        "Limitations", "Told limits")),
    headings.Field(key="contacts", names=("Emergency contacts", "Emergency contact",
                                          "Next of kin", "NOK", "In an emergency",
                                          "ICE")),
    headings.Field(key="medicines", names=("Medicines carried", "Emergency medicines",
                                           "Medicines with them", "Carries", "Medication carried"),
                   weak=("Medicines", "Medication", "Meds")),
    headings.Field(key="notes", names=("Notes", "Note", "Comments", "Comment", "Remarks",
                                       "Anything else", "Other"), joins=True),
)  # fmt: skip


def _contact_fields() -> tuple[headings.Field, ...]:
    """Return the fields of “Contact 1 name”, “Emergency contact phone” and their like.

    “Contact phone” without a number is left alone: it may be the person's own.
    """
    made = []
    parts = {
        "name": ("name",),
        "relation": ("relation", "relationship"),
        "phone": ("phone", "telephone", "tel", "number", "mobile", "phone number"),
    }
    for number in range(1, _MOST_CONTACTS + 1):
        stems = [f"{stem} {number}" for stem in ("Contact", *_STEMS)]
        if number == 1:
            stems += _STEMS
        for part, words in parts.items():
            names = [f"{stem} {word}" for stem in stems for word in words]
            names += [f"{stem} {word} {number}" for stem in ("Contact", *_STEMS) for word in words]
            made.append(headings.Field(key=f"contact{number}{part}", names=tuple(names)))
    return tuple(made)


FIELDS = (*_FIELDS, *_contact_fields())

_HEADINGS = (
    "Id", "Preferred name", "Born", "Sex", "Stature (m)", "Mass (kg)", "Latex reaction",
    "Food reactions", "Standing", "Hearing", "Sight", "Print size (pt)", "Days", "Joined", "Away",
    "Limits", "Medicines carried", "Notes",
)  # fmt: skip


def read(
    path: Path,
    *,
    file: str,
    findings: records.Findings,
    on: date | None,
    meets: frozenset[Weekday] = frozenset(),
) -> tuple[Person, ...]:
    """Return the people of a csv or xlsx file; every problem goes into `findings`.

    `on` is the day on which ages must be plausible, None to leave that check out; `meets` are the
    days on which the group meets, empty for not known.
    """
    rows = records.read(path, file=file, fields=FIELDS, required=("id", "name"), findings=findings)
    rows = tuple(row for row in rows if row.cells)
    ids = [row.take("id", _identifier, blank="") for row in rows]
    _check_ids(rows, ids=ids)
    people = []
    for row, identifier in zip(rows, ids, strict=True):
        person = _person(row, identifier=identifier, on=on)
        _check_days(row, days=person.days, meets=meets)
        people.append(person)
    return tuple(people)


def write(path: Path, people: Sequence[Person]) -> None:
    """Write people as csv, each contact in its own columns."""
    most = max((len(person.contacts) for person in people), default=0)
    contacts = tuple(
        f"Contact {number} {part}"
        for number in range(1, most + 1)
        for part in ("name", "relation", "phone")
    )
    rows = [_row(person, most=most) for person in people]
    tables.write_csv(path, headings=(*_HEADINGS, *contacts), rows=rows)


def _identifier(value: tables.Value, unit: str) -> str:
    del unit
    return quantities.text(value)


def _check_ids(rows: Sequence[records.Record], *, ids: Sequence[str]) -> None:
    """Note blank identifiers, with a free one proposed, and those used twice."""
    taken = {identifier.casefold() for identifier in ids}
    seen: dict[str, str] = {}
    for row, identifier in zip(rows, ids, strict=True):
        if "id" not in row.columns:
            return
        if not identifier:
            name = row.take("name", quantities.text, blank="")
            free = _free_id(name, taken=taken)
            taken.add(free)
            row.problem(
                key="id",
                read="",
                mend=f"Give {name or 'this person'} an id of their own that never changes, "
                f"for example {free}.",
            )
        elif identifier.casefold() in seen:
            row.problem(
                key="id",
                read=identifier,
                mend=f"{seen[identifier.casefold()]} has this id already. Give each person "
                "their own, or take one row out.",
            )
        else:
            sheet = f" of sheet {row.sheet}" if row.sheet else ""
            seen[identifier.casefold()] = f"Row {row.row}{sheet}"


def _free_id(name: str, *, taken: set[str]) -> str:
    stem = re.sub(r"[^a-z0-9]+", "-", name.casefold()).strip("-") or "person"
    number = 1
    while f"{stem}-{number}" in taken:
        number += 1
    return f"{stem}-{number}"


def _person(row: records.Record, *, identifier: str, on: date | None) -> Person:
    name = row.take("name", quantities.text, blank="")
    if not name and "name" in row.columns:
        row.problem(key="name", read="", mend="Write the name the person likes to be called.")
    birth = row.take("born", _known(quantities.birth), blank=None)
    if birth is not None:
        _check_age(row, birth=birth, on=on)
    return Person(
        id=PersonId(identifier),
        preferred_name=name,
        birth=birth,
        sex=row.take("sex", choices.sex, blank=Sex.NOT_STATED),
        stature_m=row.take("stature", _known(quantities.stature_m), blank=None),
        mass_kg=row.take("mass", _known(quantities.mass_kg), blank=None),
        latex=row.take("latex", choices.latex, blank=LatexReaction.NOT_KNOWN),
        food_reactions=row.take("foods", choices.listed, blank=()),
        standing=row.take("standing", choices.standing, blank=Standing.NOT_KNOWN),
        hearing_needs=row.take("hearing", choices.needs, blank=""),
        sight_needs=row.take("sight", choices.needs, blank=""),
        print_size_pt=row.take("print", _known(quantities.print_pt), blank=None),
        days=row.take("days", choices.weekdays, blank=()),
        joined_on=row.take("joined", _known(quantities.day), blank=None),
        away=row.take("away", _absences, blank=()),
        limits=row.take("limits", told_limits.read, blank=()),
        contacts=_contacts(row),
        medicines_carried=row.take("medicines", choices.needs, blank=""),
        notes=row.joined("notes"),
    )


def _known(parse: records.Parser[T]) -> records.Parser[T | None]:
    """Return a parser that also takes “not known”, as None."""

    def parse_known(value: tables.Value, unit: str) -> T | quantities.Unread | None:
        if quantities.text(value).casefold().strip(" .") in choices.UNKNOWN:
            return None
        return parse(value, unit)

    return parse_known


def _check_days(
    row: records.Record, *, days: tuple[Weekday, ...], meets: frozenset[Weekday]
) -> None:
    wrong = [day.value.capitalize() for day in days if meets and day not in meets]
    if wrong:
        held = " and ".join(day.value.capitalize() for day in Weekday if day in meets)
        row.problem(
            key="days",
            read="; ".join(wrong),
            mend=f"The group meets on {held}. Mend the day here, or add it to group.toml.",
        )


def _check_age(row: records.Record, *, birth: Birth, on: date | None) -> None:
    read = quantities.text(birth.on or birth.year)
    low, high = quantities.AGE_RANGE_YEARS
    if birth.year < quantities.FIRST_BIRTH_YEAR:
        row.problem(key="born", read=read, mend="The year is too long ago; look it up again.")
    elif on is not None:
        least, most = birth.ages_on(on)
        if most < low or least > high:
            row.problem(
                key="born",
                read=read,
                mend=f"This makes an age of {most}; ages from {low} to {high} are read. "
                "Look it up again, or leave it empty.",
            )


def _absences(value: tables.Value, unit: str) -> tuple[tuple[date, date], ...] | quantities.Unread:
    """Read “2 Feb 2027 to 14 Feb 2027; 5/3/2027”: first and last day of each absence."""
    del unit
    found = []
    for part in re.split(r"[;\n]", quantities.text(value)):
        if not part.strip():
            continue
        ends = re.split(r"\s+(?:to|until|till|-|–)\s+|\s*–\s*", part.strip())
        days = [quantities.day(end.removeprefix("from ")) for end in ends]
        read = [day for day in days if isinstance(day, date)]
        if len(read) != len(days) or len(read) > 2 or read[0] > read[-1]:
            return quantities.Unread(
                "Write the first and last day away, as 2 Feb 2027 to 14 Feb 2027; "
                "a semicolon between two absences."
            )
        found.append((read[0], read[-1]))
    return tuple(found)


def _contacts(row: records.Record) -> tuple[EmergencyContact, ...]:
    """Return the contacts of the one cell that holds them all and of the columns of their own."""
    found = [
        contact
        for number in range(1, _MOST_CONTACTS + 1)
        if (contact := _contact(row, number=number)) is not None
    ]
    if _named_beside(row):
        return tuple(found)
    none: tuple[EmergencyContact, ...] = ()
    return (*row.take("contacts", _listed_contacts, blank=none), *found)


def _named_beside(row: records.Record) -> bool:
    """Whether “Next of kin” holds only the name to the number in “Next of kin phone”."""
    return "contact1name" not in row.columns and bool(
        row.cells.get("contact1phone") and row.cells.get("contacts")
    )


def _contact(row: records.Record, *, number: int) -> EmergencyContact | None:
    """Return one contact of the columns of their own; half a contact is noted as a problem."""
    key = f"contact{number}"
    name = row.take(f"{key}name", quantities.text, blank="")
    relation = row.take(f"{key}relation", choices.needs, blank="")
    phone = row.take(f"{key}phone", _phone, blank="")
    name_key = f"{key}name"
    if number == 1 and _named_beside(row):
        name_key = "contacts"
        name, _, said = row.take("contacts", quantities.text, blank="").partition(",")
        relation = relation or said.strip()
    if not name and not phone:
        return None
    if not name:
        row.problem(key=name_key, read="", mend=f"Write whose number {phone} is.")
    if not phone and f"{key}phone" not in row.cells:
        mend = f"Add a telephone number for {name}, or take the name out."
        row.problem(key=f"{key}phone", read=name, mend=mend)
    return EmergencyContact(name=name, relation=relation, phone=phone)


def _listed_contacts(
    value: tables.Value, unit: str
) -> tuple[EmergencyContact, ...] | quantities.Unread:
    """Read “Ann Lee, daughter, 07700 900123; Raj Lee, son, 07700 900124”."""
    del unit
    found = []
    for clause in re.split(r"[;\n]", quantities.text(value)):
        if not clause.strip() or clause.strip().casefold() in ("none", "no"):
            continue
        tail = re.search(r"[+(]?\d[\d() \-]{4,19}$", clause.strip())
        head = clause.strip()[: tail.start()] if tail else clause
        parts = [part.strip(" :-") for part in re.split(r"[,/()]|\s-\s", head)]
        parts = [part for part in parts if part]
        if tail is None or not parts:
            return quantities.Unread(
                "Write name, relation and telephone number, as Ann Lee, daughter, 07700 900123; "
                "a semicolon between two people."
            )
        found.append(
            EmergencyContact(name=parts[0], relation=", ".join(parts[1:]), phone=tail[0].strip())
        )
    return tuple(found)


def _phone(value: tables.Value, unit: str) -> str | quantities.Unread:
    """Read a telephone number; a spreadsheet's number has lost the 0 in front of ten figures."""
    del unit
    spelt = quantities.text(value)
    if not isinstance(value, str) and len(spelt) == 10:
        return f"0{spelt}"
    if _PHONE.match(spelt):
        return spelt
    return quantities.Unread("Write the telephone number in figures, as 07700 900123.")


def _row(person: Person, *, most: int) -> tuple[str, ...]:
    birth = person.birth
    contacts = [part for item in person.contacts for part in (item.name, item.relation, item.phone)]
    return (
        person.id,
        person.preferred_name,
        "" if birth is None else quantities.text(birth.on or birth.year),
        _words(person.sex),
        quantities.number_text(person.stature_m),
        quantities.number_text(person.mass_kg),
        _words(person.latex),
        "; ".join(person.food_reactions),
        _words(person.standing),
        person.hearing_needs,
        person.sight_needs,
        quantities.number_text(person.print_size_pt),
        "; ".join(day.value.capitalize() for day in person.days),
        "" if person.joined_on is None else person.joined_on.isoformat(),
        "; ".join(f"{first.isoformat()} to {last.isoformat()}" for first, last in person.away),
        told_limits.written(person.limits),
        person.medicines_carried,
        person.notes,
        *contacts,
        *[""] * (3 * most - len(contacts)),
    )


def _words(member: Sex | LatexReaction | Standing) -> str:
    return member.value.replace("_", " ")
