"""Give somebody an account and a role, change it, take it away."""

from __future__ import annotations

import uuid

from auditlog.models import LogEntry
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.db import transaction

from inventory.places.models import Shop
from workshops.access.models import Membership, User
from workshops.access.throttle import let_in_again


class AccessRefused(ValueError):
    """An account or a role that cannot be given or taken, with the reason."""


class NameTaken(AccessRefused):
    """Somebody else signs in under that name."""


class LastCoordinator(AccessRefused):
    """A shop would be left with nobody who may do everything."""


@transaction.atomic
def make_user(
    *, username: str, password: str, first_name: str = "", last_name: str = "", email: str = ""
) -> User:
    """An account that can sign in, without a role anywhere yet.

    Raises
    ------
    NameTaken
        When the user name is in use.
    ValidationError
        When the password is too weak; its messages say how.
    """
    # Whatever the capitals: two accounts that look alike on a roll are one person's mistake
    # waiting.
    if User.objects.filter(username__iexact=username).exists():
        raise NameTaken(f"Somebody already signs in as “{username}”: choose another user name.")
    user = User(username=username, first_name=first_name, last_name=last_name, email=email)
    # Asked with the user, so that a password made of the person's own name is refused.
    validate_password(password, user)
    user.set_password(password)
    user.full_clean()
    user.save()
    return user


@transaction.atomic
def make_user_without_password(*, first_name: str, last_name: str = "", email: str = "") -> User:
    """An account that no password opens: its holder comes in by a link sent to them."""
    # Nobody types the name, so it only has to be one that nobody else has.
    name = f"by-link-{uuid.uuid4().hex[:12]}"
    return User.objects.create_user(
        name, email=email, password=None, first_name=first_name, last_name=last_name
    )


@transaction.atomic
def give_role(*, user: User, shop: Shop, role: str) -> Membership:
    """The user's membership of the shop, new or changed to the role.

    Raises
    ------
    LastCoordinator
        When the shop's only coordinator would get another role.
    ValidationError
        When there is no such role.
    """
    if role not in Membership.Role.values:
        raise ValidationError(f"“{role}” is not a role: choose one of the list.")
    # A coordinator who takes a lesser role leaves the shop as much as one who goes.
    if role != Membership.Role.COORDINATOR:
        _keep_a_coordinator(user, shop)
    membership, _ = Membership.objects.update_or_create(
        user=user, shop=shop, defaults={"role": role}
    )
    return membership


@transaction.atomic
def take_role(*, user: User, shop: Shop) -> None:
    """End the user's membership; the account and what it recorded stay.

    Raises
    ------
    LastCoordinator
        When the user is the shop's only coordinator.
    """
    _keep_a_coordinator(user, shop)
    # Only the membership: entries of the book and the register go on naming the account.
    Membership.objects.filter(user=user, shop=shop).delete()


@transaction.atomic
def add_member(*, shop: Shop, role: str, username: str, password: str, **names: str) -> Membership:
    """A new account with a role in the shop, both or neither.

    Raises
    ------
    NameTaken, ValidationError
        As ``make_user`` and ``give_role``.
    """
    user = make_user(username=username, password=password, **names)
    # One transaction around both, or a refused role would leave an account that opens nothing.
    return give_role(user=user, shop=shop, role=role)


@transaction.atomic
def close_account(*, user: User, shop: Shop, name: tuple[str, str]) -> bool:
    """End the membership; and, where no other shop knows the account, make it nobody's.

    Rows that say what the account did go on pointing to it, under ``name``: first and last.
    Says whether the account was closed.

    Raises
    ------
    LastCoordinator
        When the user is the shop's only coordinator.
    """
    take_role(user=user, shop=shop)
    if user.memberships.exists() or user.is_staff or user.is_superuser:
        return False
    let_in_again(user.username)
    LogEntry.objects.filter(actor=user).update(actor_email=None)
    user.username = f"closed-{uuid.uuid4().hex[:12]}"
    (user.first_name, user.last_name), user.email = name, ""
    user.is_active = False
    user.set_unusable_password()
    user.save()
    return True


def change_role(*, user: User, shop: Shop, role: str) -> str:
    """Give the role, or take the membership when it is empty; the sentence says which.

    Raises
    ------
    LastCoordinator
        When the shop would be left without a coordinator.
    """
    if not role:
        take_role(user=user, shop=shop)
        return f"{user} may no longer sign in here."
    return f"{user} is now {give_role(user=user, shop=shop, role=role).get_role_display()}."


def _keep_a_coordinator(user: User, shop: Shop) -> None:
    # Locked, so that two coordinators who step down at once cannot both succeed.
    holders = set(
        Membership.objects.select_for_update()
        .filter(shop=shop, role=Membership.Role.COORDINATOR)
        .values_list("user_id", flat=True)
    )
    if holders == {user.pk}:
        raise LastCoordinator(
            f"{user} is the only coordinator of {shop}: make somebody else coordinator first."
        )
