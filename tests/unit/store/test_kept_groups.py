from dataclasses import replace
from datetime import UTC, datetime

import pytest
from django.db import IntegrityError, connection, transaction
from tests import stories
from tests.cast import KEPT_AT, Cast

from halewright.core.people.group import Decision
from halewright.store import models, queries
from halewright.usecases import blocks, groups_kept

pytestmark = pytest.mark.django_db

LATER = datetime(2026, 11, 27, 9, 0, tzinfo=UTC)


def test_a_group_comes_back_as_it_was_kept(cast: Cast) -> None:
    """Everything that a group holds survives the database."""
    back = groups_kept.kept(group_id=cast.group.pk, organisation=cast.alma.organisation)

    assert back == stories.four_chairs()


def test_reading_a_group_takes_five_queries(cast: Cast, django_assert_num_queries: object) -> None:
    """However many people there are, a group is read in four queries and its points in one."""
    with django_assert_num_queries(4):  # type: ignore[operator]
        queries.whole(cast.group)


def test_keeping_the_same_group_again_adds_no_fact(cast: Cast) -> None:
    """Bringing a folder in twice repeats nothing."""
    before = models.HealthFact.objects.count()

    groups_kept.keep(
        stories.four_chairs(), organisation=cast.alma.organisation, by=cast.alma, at=LATER
    )

    assert models.HealthFact.objects.count() == before


def test_a_changed_fact_is_added_and_the_old_one_stays(cast: Cast) -> None:
    """The newest fact counts, and what was known before can still be read."""
    group = stories.four_chairs()
    ada, *others = group.people
    changed = replace(group, people=(replace(ada, notes="Pacemaker checked"), *others))

    groups_kept.keep(changed, organisation=cast.alma.organisation, by=cast.alma, at=LATER)

    back = queries.whole(cast.group)
    row = models.Participant.objects.get(key="ada")
    texts = [fact.text for fact in row.facts.all() if fact.kind == models.FactKind.ABOUT]
    assert back.people[0].notes == "Pacemaker checked"
    assert [stories.PRIVATE_NOTE in text for text in texts] == [True, False]


def test_limits_taken_back_are_recorded_as_none(cast: Cast) -> None:
    """A person freed of a limit has none, by a new fact and not by removing the old."""
    group = stories.four_chairs()
    ada, *others = group.people

    groups_kept.keep(
        replace(group, people=(replace(ada, limits=()), *others)),
        organisation=cast.alma.organisation,
        by=cast.alma,
        at=LATER,
    )

    assert queries.whole(cast.group).people[0].limits == ()


def test_somebody_no_longer_listed_is_gone_from_the_group_but_not_from_the_record(
    cast: Cast,
) -> None:
    """Leaving a group removes nothing that was recorded."""
    group = stories.four_chairs()

    groups_kept.keep(
        replace(group, people=group.people[1:], screens=(), decisions=()),
        organisation=cast.alma.organisation,
        by=cast.alma,
        at=LATER,
    )

    row = models.Participant.objects.get(key="ada")
    assert [person.id for person in queries.whole(cast.group).people] == ["ben", "con", "dot"]
    assert row.left_on == LATER.date()
    assert row.facts.count() == 4


def test_another_organisation_has_no_such_group(cast: Cast) -> None:
    """A group's number is of no use to a stranger."""
    with pytest.raises(groups_kept.NoSuchGroup, match="There is no group number"):
        groups_kept.kept(group_id=cast.group.pk, organisation=cast.cass.organisation)


def test_two_organisations_may_have_groups_of_one_name(cast: Cast) -> None:
    """Keeping a group of the same name elsewhere touches nobody else's."""
    row = groups_kept.keep(
        stories.four_chairs(), organisation=cast.cass.organisation, by=cast.cass, at=LATER
    )

    assert row.pk != cast.group.pk


@pytest.mark.usefixtures("cast")
def test_a_fact_cannot_be_saved_again() -> None:
    """Changing a fact in Python is refused in words."""
    fact = models.HealthFact.objects.all()[0]
    fact.text = "{}"

    with pytest.raises(models.FactsAreAdded, match="never changed or removed"):
        fact.save()


@pytest.mark.usefixtures("cast")
def test_a_fact_cannot_be_removed() -> None:
    """Removing a fact in Python is refused, one by one and all together."""
    with pytest.raises(models.FactsAreAdded):
        models.HealthFact.objects.all()[0].delete()
    with pytest.raises(models.FactsAreAdded):
        models.HealthFact.objects.all().delete()
    with pytest.raises(models.FactsAreAdded):
        models.HealthFact.objects.update(text="{}")


@pytest.mark.parametrize(
    "statement",
    ["UPDATE store_healthfact SET text = '{}'", "DELETE FROM store_healthfact"],
    ids=["change", "remove"],
)
@pytest.mark.usefixtures("cast")
def test_the_database_itself_refuses_to_change_a_fact(statement: str) -> None:
    """Not even a hand in the database can change what was recorded: a trigger refuses it.

    The same test runs on PostgreSQL when HALEWRIGHT_DATABASE_URL names one.
    """
    with (
        pytest.raises(Exception, match="Health facts are added, never changed or removed"),
        transaction.atomic(),
        connection.cursor() as cursor,
    ):
        cursor.execute(statement)

    assert models.HealthFact.objects.exclude(kind="x").count() > 0


def test_a_decision_is_added_with_who_and_when(cast: Cast) -> None:
    """A recorded decision comes back with the group, after the earlier ones."""
    decision = Decision(
        person=stories.four_chairs().people[0].id,
        flag="heart",
        go_ahead=False,
        by="Dr Okoro",
        on=LATER.date(),
        note="after the check in January",
    )

    groups_kept.decide(decision, group=cast.group, by=cast.alma, at=LATER)

    assert queries.whole(cast.group).decisions[-1] == decision


def test_a_decision_about_a_stranger_is_refused(cast: Cast) -> None:
    """Nothing is recorded about somebody whom the group does not list."""
    decision = replace(stories.four_chairs().decisions[0], person="nobody")  # type: ignore[arg-type]

    with pytest.raises(groups_kept.NoSuchPerson):
        groups_kept.decide(decision, group=cast.group, by=cast.alma, at=LATER)


def test_a_plan_comes_back_as_it_was_kept(cast: Cast) -> None:
    """A plan survives the database, all of it."""
    value = stories.plain_plan(stories.four_chairs())

    row = blocks.keep(value, group=cast.group, by=cast.alma, at=KEPT_AT)

    row.refresh_from_db()
    assert queries.read(row) == value


@pytest.mark.usefixtures("cast")
def test_health_text_cannot_be_searched() -> None:
    """No query may come to rely on reading health notes, since they are to be encrypted."""
    with pytest.raises(Exception, match="Unsupported lookup"):
        models.HealthFact.objects.filter(text__contains="Pacemaker").count()


@pytest.mark.usefixtures("cast")
def test_a_band_longer_than_nothing() -> None:
    """The database itself refuses a band of no length."""
    with pytest.raises(IntegrityError), transaction.atomic():
        models.Band.objects.filter(label="thin").update(length_m=0.0)
