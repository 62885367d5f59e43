"""One guard per page: finds the shop, asks for one permission, sets the shop's clock."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any, Concatenate, ParamSpec, cast

from django.contrib.auth.views import redirect_to_login
from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.template.response import SimpleTemplateResponse
from django.utils import timezone
from django_htmx.http import HttpResponseClientRedirect

from workshops.access.models import Membership, User
from workshops.access.permissions import Permission
from workshops.access.queries import membership_in
from workshops.access.roles import permissions_of
from workshops.common.requests import InShop

__all__ = ["Permission", "ShopRequest", "guard"]

P = ParamSpec("P")


class ShopRequest(InShop):
    """A request that passed a guard: somebody of this shop, with the permission asked."""

    user: User
    member: Membership


ShopView = Callable[Concatenate[ShopRequest, P], HttpResponseBase]


def guard(permission: Permission) -> Callable[[ShopView[P]], Callable[..., HttpResponseBase]]:
    """Let through only those members of the shop in the address who hold the permission.

    Takes ``shop`` out of the address and gives the view ``request.shop`` and
    ``request.member``. Somebody not signed in is sent to the sign-in page, a stranger
    meets 404, a member without the permission 403.
    """

    def around(view: ShopView[P]) -> Callable[..., HttpResponseBase]:
        @wraps(view)
        def guarded(request: HttpRequest, shop: str, **kwargs: Any) -> HttpResponseBase:
            if not request.user.is_authenticated:
                return _to_sign_in(request)
            admitted = _admit(request, shop, permission)
            # The shop's clock and not the reader's: a night at six is at six for whoever looks
            # from afar.
            with timezone.override(admitted.shop.zone):
                return _rendered(view(admitted, **kwargs))  # type: ignore[call-arg]

        # test_access.py reads it to check that every page has exactly one guard.
        guarded.permission = permission  # type: ignore[attr-defined]
        return guarded

    return around


def _admit(request: HttpRequest, slug: str, permission: Permission) -> ShopRequest:
    member = membership_in(cast(User, request.user), slug)
    # Strangers and unknown shops get one answer, so that the answer tells nothing.
    if member is None:
        raise Http404("There is no such shop, or you do not belong to it.")
    admitted = cast(ShopRequest, request)
    # Set before the role is asked, so that the page of a refusal still shows the rooms.
    admitted.shop, admitted.member = member.shop, member
    if permission not in permissions_of(member.role):
        role = member.get_role_display()
        raise PermissionDenied(f"Your role here is {role}, which does not allow this.")
    return admitted


def _to_sign_in(request: HttpRequest) -> HttpResponse:
    # The path alone, never the host that the request claims: it cannot lead elsewhere.
    answer = redirect_to_login(request.get_full_path())
    # A fragment must not receive the sign-in page in its place: the whole page moves.
    if getattr(request, "htmx", False):
        return HttpResponseClientRedirect(answer.url)
    return answer


def _rendered(answer: HttpResponseBase) -> HttpResponseBase:
    # A lazy answer would be rendered after the shop's time zone is gone.
    if isinstance(answer, SimpleTemplateResponse) and not answer.is_rendered:
        return answer.render()
    return answer
