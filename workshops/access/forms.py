"""The forms of signing in and of giving somebody a role."""

from __future__ import annotations

from typing import Any

from django import forms
from django.contrib.auth.forms import AuthenticationForm
from django.core.exceptions import ValidationError

from workshops.access.models import Membership, User


class SignInForm(AuthenticationForm):
    """User name and password; one sentence when they do not fit."""

    error_messages = {
        "invalid_login": "User name and password do not belong together. Try again, or ask "
        "your coordinator for a new password.",
        "inactive": "This account is switched off. Ask your coordinator.",
    }

    is_shared = forms.BooleanField(
        label="This is a shared tablet", required=False,
        help_text="It signs you out when it is left lying, and at the end of the evening.",
    )  # fmt: skip

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["username"].label = "User name"


class NewMemberForm(forms.Form):
    """Somebody new who may sign in at this shop."""

    username = forms.CharField(label="User name", max_length=150)
    first_name = forms.CharField(label="First name", max_length=150)
    last_name = forms.CharField(label="Last name", max_length=150, required=False)
    email = forms.EmailField(
        label="E-mail", required=False,
        help_text="Only for a new password, when the old one is forgotten.",
    )  # fmt: skip
    role = forms.ChoiceField(label="Role", choices=Membership.Role.choices)
    password = forms.CharField(
        label="First password",
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
        help_text="At least 8 characters. Tell it in person; it can be changed after signing in.",
    )

    def clean_username(self) -> str:
        """Refuse a name somebody already signs in under."""
        username = str(self.cleaned_data["username"]).strip()
        # The model asks again when it is saved; asked here too, the sentence stands beside its
        # field.
        User.username_validator(username)
        if User.objects.filter(username__iexact=username).exists():
            raise ValidationError(f"Somebody already signs in as “{username}”: choose another.")
        return username


class RoleForm(forms.Form):
    """Another role for a member; empty takes the membership away."""

    role = forms.ChoiceField(
        label="Role", choices=[("", "may no longer sign in here"), *Membership.Role.choices],
        required=False,
    )  # fmt: skip


class TrailForm(forms.Form):
    """Which part of the trail is wanted."""

    who = forms.ChoiceField(label="Who", required=False)
    kind = forms.ChoiceField(label="What kind of thing", required=False, choices=[
        ("", "anything"), ("person", "people"), ("guardianship", "guardians"),
        ("waiver", "waivers"), ("bar", "bars"), ("clubrule", "rules"), ("membership", "roles"),
        ("station", "stations"), ("tool", "tools"), ("item", "items"),
    ])  # fmt: skip
    words = forms.CharField(label="Whose, or which", required=False, max_length=60)
    since = forms.DateField(
        label="From", required=False, widget=forms.DateInput(attrs={"type": "date"})
    )
    until = forms.DateField(
        label="To", required=False, widget=forms.DateInput(attrs={"type": "date"})
    )
    before = forms.IntegerField(required=False, widget=forms.HiddenInput)

    def __init__(self, *args: Any, members: list[Membership], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        names = [
            (str(each.user_id), each.user.get_full_name() or str(each.user)) for each in members
        ]
        self.fields["who"].choices = [("", "anybody"), *names]  # type: ignore[attr-defined]

    def clean_who(self) -> int | None:
        """The number of the account, or none."""
        return int(self.cleaned_data["who"]) if self.cleaned_data["who"] else None
