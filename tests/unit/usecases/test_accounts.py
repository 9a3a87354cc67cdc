import pytest
from django.contrib.auth.models import User
from tests.cast import PASSWORD

from halewright.store import models, queries
from halewright.usecases import accounts

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("site")]
ALMA = accounts.NewMember(name="Alma Reyes", password=PASSWORD)


def test_nobody_can_sign_in_as_the_programme() -> None:
    """What the programme records itself is in a name that opens no door."""
    keeper = accounts.keeper()

    assert not keeper.user.has_usable_password()
    assert accounts.check(name=keeper.name, password="") is None
    assert not queries.is_anybody_here()


def test_the_keeper_is_made_once() -> None:
    """A second start records under the same name."""
    assert accounts.keeper() == accounts.keeper()
    assert User.objects.count() == 1


def test_the_first_leader_takes_over_what_was_stocked() -> None:
    """A demo group that was there before belongs to the leader's organisation."""
    keeper = accounts.keeper()

    alma = accounts.create_first_leader(organisation="Harbour Hall", new=ALMA)

    assert alma.organisation == keeper.organisation
    assert models.Organisation.objects.get().name == "Harbour Hall"


def test_there_is_one_first_leader() -> None:
    """A second first leader is refused in words."""
    accounts.create_first_leader(organisation="", new=ALMA)

    with pytest.raises(accounts.LeaderExists, match="Sign in instead"):
        accounts.create_first_leader(organisation="", new=ALMA)


def test_two_people_cannot_share_a_name() -> None:
    """Capitals and spaces do not make another name."""
    alma = accounts.create_first_leader(organisation="", new=ALMA)
    again = accounts.NewMember(name="ALMA  reyes", password=PASSWORD)

    with pytest.raises(accounts.NotAccepted, match="signs in as"):
        accounts.add_member(organisation=alma.organisation, new=again, role=models.Role.ASSISTANT)


def test_a_user_without_an_organisation_cannot_come_in() -> None:
    """Being known to Django is not enough."""
    User.objects.create_user("wanderer", password=PASSWORD)

    assert accounts.check(name="wanderer", password=PASSWORD) is None
