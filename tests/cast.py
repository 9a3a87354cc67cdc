"""Three people: Alma leads, Bram assists and may only read, Cass belongs somewhere else."""

from dataclasses import dataclass
from datetime import UTC, datetime

from django.test import Client
from tests import stories

from halewright.store import models
from halewright.usecases import accounts, groups_kept

PASSWORD = "four warm kitchen chairs"  # noqa: S105  of three invented people
KEPT_AT = datetime(2026, 11, 20, 9, 0, tzinfo=UTC)


@dataclass(frozen=True, slots=True, kw_only=True)
class Cast:
    """The members, and Alma's group of four chairs."""

    alma: models.Member
    bram: models.Member
    cass: models.Member
    group: models.Group

    def client(self, who: models.Member | None) -> Client:
        """Return a browser in which somebody, or nobody, is signed in."""
        browser = Client()
        if who is not None:
            browser.force_login(who.user)
        return browser


def gather() -> Cast:
    """Make the three people in two organisations, and keep Alma's group."""
    alma = accounts.create_first_leader(
        organisation="Harbour Hall", new=accounts.NewMember(name="Alma Reyes", password=PASSWORD)
    )
    bram = accounts.add_member(
        organisation=alma.organisation,
        new=accounts.NewMember(name="Bram Osei", password=PASSWORD),
        role=models.Role.ASSISTANT,
    )
    elsewhere = models.Organisation.objects.create(name="Mill Street")
    cass = accounts.add_member(
        organisation=elsewhere,
        new=accounts.NewMember(name="Cass Lindqvist", password=PASSWORD),
        role=models.Role.LEADER,
    )
    group = groups_kept.keep(
        stories.four_chairs(), organisation=alma.organisation, by=alma, at=KEPT_AT
    )
    return Cast(alma=alma, bram=bram, cass=cass, group=group)
