"""Who may sign in: the first leader, and checks at the door."""

from dataclasses import dataclass

from django.contrib.auth import authenticate, password_validation
from django.contrib.auth.models import User
from django.core.exceptions import ValidationError
from django.db import transaction

from halewright.core.errors import HalewrightError
from halewright.store import models, queries

OUR_GROUPS = "Our groups"
KEEPER = "halewright itself"


class LeaderExists(HalewrightError):
    """Somebody asked for a first leader where there is one already."""

    def __init__(self) -> None:
        """Say where to go instead."""
        super().__init__("A leader has been made here already. Sign in instead.")


class NotAccepted(HalewrightError):
    """The name or the password of a new member will not do; `reasons` say why, all at once."""

    def __init__(self, reasons: tuple[str, ...]) -> None:
        """Keep the reasons; the message is a line for each."""
        self.reasons = reasons
        super().__init__("\n".join(reasons))


@dataclass(frozen=True, slots=True, kw_only=True)
class NewMember:
    """What is asked of somebody who is to sign in."""

    name: str
    password: str


def sign_in_name(name: str) -> str:
    """Return the name as it is compared at the door: spaces and capitals do not matter."""
    return " ".join(name.split()).casefold()


@transaction.atomic
def create_first_leader(*, organisation: str, new: NewMember) -> models.Member:
    """Create the organisation and its leader; raises LeaderExists or NotAccepted.

    Where the installation was stocked with a demo group before, the leader takes that over.
    """
    if queries.is_anybody_here():
        raise LeaderExists
    home = models.Organisation.objects.first() or models.Organisation()
    home.name = " ".join(organisation.split()) or OUR_GROUPS
    home.save()
    return add_member(organisation=home, new=new, role=models.Role.LEADER)


@transaction.atomic
def keeper() -> models.Member:
    """Return the member in whose name the programme itself records; nobody can sign in as it."""
    home = models.Organisation.objects.first() or models.Organisation.objects.create(
        name=OUR_GROUPS
    )
    user, made = User.objects.get_or_create(username=KEEPER, defaults={"is_active": False})
    if made:
        user.set_unusable_password()
        user.save()
        return models.Member.objects.create(
            organisation=home, user=user, name="Halewright", role=models.Role.ASSISTANT
        )
    return models.Member.objects.get(user=user)


@transaction.atomic
def add_member(
    *, organisation: models.Organisation, new: NewMember, role: models.Role
) -> models.Member:
    """Add somebody who may sign in; raises NotAccepted with every reason at once."""
    name = " ".join(new.name.split())
    user = User(username=sign_in_name(name))
    reasons = []
    if not name or len(name) > 150:
        reasons.append("Give a name of 1 to 150 letters.")
    elif User.objects.filter(username=user.username).exists():
        reasons.append(f"Somebody signs in as “{name}” already. Choose another name.")
    try:
        password_validation.validate_password(new.password, user)
    except ValidationError as error:
        reasons.extend(error.messages)
    if reasons:
        raise NotAccepted(tuple(reasons))
    user.set_password(new.password)
    user.save()
    return models.Member.objects.create(organisation=organisation, user=user, name=name, role=role)


def check(*, name: str, password: str) -> User | None:
    """Return the user whose name and password these are, if they are a member; None otherwise."""
    user = authenticate(username=sign_in_name(name), password=password)
    if isinstance(user, User) and models.Member.objects.filter(user=user).exists():
        return user
    return None
