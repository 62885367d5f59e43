"""Sign in, sign out, change a password; who may sign in at a shop."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth import views as auth_views
from django.core.exceptions import ValidationError
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse_lazy
from django.views.decorators.http import require_http_methods, require_POST

from workshops.access import actions, queries
from workshops.access.forms import NewMemberForm, RoleForm, SignInForm
from workshops.access.guards import Permission, ShopRequest, guard
from workshops.access.roles import CHARGES


class SignIn(auth_views.LoginView):
    """The sign-in page; somebody already signed in goes on to the shop."""

    template_name = "access/sign_in.html"
    authentication_form = SignInForm
    redirect_authenticated_user = True


class SignOut(auth_views.LogoutView):
    """Ends the session. POST only, so that no link or picture can do it."""


class ChangePassword(auth_views.PasswordChangeView):
    """A new password for oneself."""

    template_name = "access/password.html"
    success_url = reverse_lazy("home:front")

    def get_success_url(self) -> str:
        """Back to the front page, with a word that it worked."""
        messages.success(self.request, "Your password is changed.")
        return super().get_success_url()


@require_http_methods(["GET", "POST"])
@guard(Permission.EDIT_MEMBERS)
def members(request: ShopRequest) -> HttpResponse:
    """Who may sign in here and as what; POST adds somebody."""
    form = NewMemberForm(request.POST or None)
    if request.method == "POST" and form.is_valid() and _add(request, form):
        return redirect("access:members", shop=request.shop.slug)
    page = {
        "form": form,
        "members": queries.members_of(request.shop),
        "charges": [(role.label, charge.says) for role, charge in CHARGES.items()],
        "roles": RoleForm().fields["role"],
    }
    # 422 lets htmx and tests tell a refused form from a page; browsers show it alike.
    status = 422 if form.is_bound else 200
    return render(request, "access/members.html", page, status=status)


def _add(request: ShopRequest, form: NewMemberForm) -> bool:
    wanted = dict(form.cleaned_data)
    role = wanted.pop("role")
    try:
        # The form has asked for the name already; somebody else may have taken it since.
        member = actions.add_member(shop=request.shop, role=role, **wanted)
    except actions.NameTaken as refused:
        form.add_error("username", str(refused))
        return False
    except ValidationError as refused:
        form.add_error("password", refused.messages)
        return False
    messages.success(request, f"{member.user} may now sign in as {member.get_role_display()}.")
    return True


@require_POST
@guard(Permission.EDIT_MEMBERS)
def member(request: ShopRequest, pk: int) -> HttpResponse:
    """Another role for a member, or none."""
    # Looked for among the shop's own members: another shop's number finds nothing.
    changed = get_object_or_404(queries.members_of(request.shop), pk=pk)
    form = RoleForm(request.POST)
    if not form.is_valid():
        messages.error(request, "Choose one of the roles of the list.")
        return redirect("access:members", shop=request.shop.slug)
    try:
        says = actions.change_role(
            user=changed.user, shop=request.shop, role=form.cleaned_data["role"]
        )
        messages.success(request, says)
    except actions.LastCoordinator as refused:
        messages.error(request, str(refused))
    return redirect("access:members", shop=request.shop.slug)
