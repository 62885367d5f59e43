"""Taking an entry back."""

from __future__ import annotations

from uuid import uuid4

from django import forms


class TakeBackForm(forms.Form):
    """Why an entry was wrong."""

    reason = forms.CharField(label="Why is it taken back?", max_length=200)
    key = forms.UUIDField(widget=forms.HiddenInput, initial=uuid4)
