"""Sign in, sign out, a new password; who may sign in at a shop."""

from __future__ import annotations

from typing import Any

from django.conf import settings
from django.contrib import messages
from django.contrib.auth import views as auth_views
from django.contrib.auth.decorators import login_required
from django.contrib.auth.forms import AuthenticationForm
from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse_lazy
from django.views.decorators.http import require_http_methods, require_POST

from workshops.access import actions, queries, tablets, throttle
from workshops.access.forms import NewMemberForm, RoleForm, SignInForm, TrailForm
from workshops.access.guards import Permission, ShopRequest, guard
from workshops.access.roles import CHARGES
from workshops.access.trail import AT_ONCE, Asked, trail_of


class SignIn(auth_views.LoginView):
    """The sign-in page; somebody already signed in goes on to the shop."""

    template_name = "access/sign_in.html"
    authentication_form = SignInForm
    redirect_authenticated_user = True

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        """With why a shared tablet signed out, and whether what was typed is kept."""
        session = self.request.session
        more = {
            "ended": session.get(tablets.ENDED, ""),
            "is_kept": tablets.TYPED in session,
            "idle_minutes": settings.SHARED_TABLET_IDLE_MINUTES,
            "ends_at": settings.SHARED_TABLET_ENDS_AT,
        }
        return super().get_context_data(**kwargs) | more

    def get_initial(self) -> dict[str, Any]:
        """Ticked beforehand where the session before was a shared one."""
        return {"is_shared": bool(self.request.session.get(tablets.ENDED))}

    def form_valid(self, form: AuthenticationForm) -> HttpResponse:
        """Sign in; on a shared tablet only for this evening."""
        # Signing in empties the session of somebody else: what was typed is carried over.
        typed = self.request.session.get(tablets.TYPED)
        answer = super().form_valid(form)
        self.request.session.pop(tablets.ENDED, None)
        if form.cleaned_data["is_shared"]:
            tablets.mark_shared(self.request, form.get_user())
        if typed:
            self.request.session[tablets.TYPED] = typed
        if tablets.typed_by(self.request):
            return redirect("access:again")
        tablets.forget_typed(self.request)
        return answer


@require_http_methods(["GET", "POST"])
@login_required
def again(request: HttpRequest) -> HttpResponse:
    """What was on its way when the tablet signed out, to be sent once more; POST gives it up."""
    typed = tablets.typed_by(request)
    if typed is None or request.method == "POST":
        tablets.forget_typed(request)
        return redirect("home:front")
    # Once sent it must not be offered a second time, or a count would be doubled.
    tablets.forget_typed(request)
    return render(request, "access/again.html", {"typed": typed})


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


class ForgottenPassword(auth_views.PasswordResetView):
    """Asks for the e-mail address; answers alike whether an account has it or not."""

    template_name = "access/forgotten.html"
    email_template_name = "access/forgotten_letter.txt"
    subject_template_name = "access/forgotten_subject.txt"
    success_url = reverse_lazy("access:forgotten_sent")


class PasswordSent(auth_views.PasswordResetDoneView):
    """Where to look for the letter."""

    template_name = "access/forgotten_sent.html"


class NewPassword(auth_views.PasswordResetConfirmView):
    """A new password by the link of the letter; the link opens once, and not for long."""

    template_name = "access/new_password.html"
    success_url = reverse_lazy("access:sign_in")

    def form_valid(self, form: Any) -> HttpResponse:
        """Kept; and whoever waited after too many wrong ones may sign in at once."""
        answer = super().form_valid(form)
        throttle.let_in_again(form.user.get_username())
        messages.success(self.request, "Your new password is kept. Sign in with it.")
        return answer


@require_http_methods(["GET", "POST"])
@guard(Permission.EDIT_MEMBERS)
def members(request: ShopRequest) -> HttpResponse:
    """Who may sign in here and as what; POST adds somebody."""
    form = NewMemberForm(request.POST or None)
    if request.method == "POST" and form.is_valid() and _add(request, form):
        return redirect("access:members", shop=request.shop.slug)
    rows = list(queries.members_of(request.shop))
    page = {
        "form": form,
        "members": rows,
        "waiting": throttle.waiting_among(row.user.username for row in rows),
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


@require_POST
@guard(Permission.EDIT_MEMBERS)
def let_in(request: ShopRequest, pk: int) -> HttpResponse:
    """Let somebody try again at once who gave too many wrong passwords."""
    member = get_object_or_404(queries.members_of(request.shop), pk=pk)
    throttle.let_in_again(member.user.username)
    messages.success(request, f"{member.user} may try to sign in again now.")
    return redirect("access:members", shop=request.shop.slug)


@guard(Permission.SEE_TRAIL)
def trail(request: ShopRequest) -> HttpResponse:
    """Who changed what, the latest first; by person, kind of thing and day."""
    form = TrailForm(request.GET or None, members=list(queries.members_of(request.shop)))
    asked = Asked(**form.cleaned_data) if form.is_valid() else Asked()
    lines = trail_of(request.shop, asked)
    older = request.GET.copy()
    if lines:
        older["before"] = str(lines[-1].pk)
    page = {
        "form": form,
        "lines": lines,
        "older": older.urlencode() if len(lines) == AT_ONCE else "",
    }
    return render(request, "access/trail.html", page)
