"""The pages that keep the list: add, edit, walk-in, waiver, guardian, account."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.people import actions
from workshops.people.forms import (
    AccountForm,
    GuardianForm,
    PersonForm,
    WaiverForm,
    WalkInForm,
)
from workshops.people.looking import EVERYTHING
from workshops.people.models import Person
from workshops.people.refusals import PeopleRefused

WRITES = require_http_methods(["GET", "POST"])


@WRITES
@guard(Permission.EDIT_PEOPLE)
def add(request: ShopRequest) -> HttpResponse:
    """Somebody new, with everything the club keeps."""
    first = {"joined_on": timezone.localdate()}
    form = PersonForm(request.POST or None, shop=request.shop, initial=first)
    person = kept(
        request, form, lambda fields: actions.add_person(
            shop=request.shop, fields=fields, by=request.user
        )
    )  # fmt: skip
    if person:
        messages.success(request, f"{person} is on the list.")
        return redirect("people:person", shop=request.shop.slug, pk=person.pk)
    return answer(request, form, "Who is new?", "Add")


@WRITES
@guard(Permission.EDIT_PEOPLE)
def edit(request: ShopRequest, pk: int) -> HttpResponse:
    """Change what the club keeps of a person."""
    person = get_object_or_404(Person, shop=request.shop, pk=pk)
    if request.method == "GET":
        actions.look_at([person], what=EVERYTHING, page="the form to change it", by=request.user)
    form = PersonForm(request.POST or None, shop=request.shop, instance=person)
    if kept(request, form, lambda fields: actions.edit_person(
        person=get_object_or_404(Person, pk=pk), fields=fields, by=request.user
    )):  # fmt: skip
        messages.success(request, f"{person}: kept.")
        return redirect("people:person", shop=request.shop.slug, pk=pk)
    return answer(request, form, f"What do we keep of {person}?", "Keep", person)


@WRITES
@guard(Permission.RUN_NIGHT)
def walk_in(request: ShopRequest) -> HttpResponse:
    """Somebody at the door: name, age, waiver, done."""
    first = {"waiver_version": str(timezone.localdate().year)}
    form = WalkInForm(request.POST or None, shop=request.shop, initial=first)
    person = kept(request, form, lambda fields: _walk_in(request, fields))
    if person:
        messages.success(request, f"{person} is on the list.")
        return redirect("people:walk_in", shop=request.shop.slug)
    page = {"form": form, "today": timezone.localdate()}
    return render(request, "people/walk_in.html", page, status=422 if form.is_bound else 200)


def _walk_in(request: ShopRequest, fields: dict[str, Any]) -> Person:
    waiver = fields.pop("waiver_version")
    fields.pop("is_another")
    return actions.walk_in(shop=request.shop, fields=fields, waiver_version=waiver, by=request.user)


@WRITES
@guard(Permission.RUN_NIGHT)
def waiver(request: ShopRequest, pk: int) -> HttpResponse:
    """A waiver the person signed."""
    person = get_object_or_404(Person, shop=request.shop, pk=pk)
    today = timezone.localdate()
    form = WaiverForm(request.POST or None, initial={"on": today, "version": str(today.year)})
    if kept(request, form, lambda fields: actions.sign_waiver(
        person=person, by=request.user, **fields
    )):  # fmt: skip
        messages.success(request, f"The waiver of {person} is kept.")
        return redirect("people:person", shop=request.shop.slug, pk=pk)
    return answer(request, form, f"Which waiver did {person} sign?", "Keep the waiver", person)


@WRITES
@guard(Permission.EDIT_PEOPLE)
def guardian(request: ShopRequest, pk: int) -> HttpResponse:
    """A grown-up who answers for a minor."""
    person = get_object_or_404(Person, shop=request.shop, pk=pk)
    form = GuardianForm(request.POST or None, minor=person)
    if kept(request, form, lambda fields: actions.add_guardian(
        minor=person, by=request.user, **fields
    )):  # fmt: skip
        messages.success(request, f"{form.cleaned_data['guardian']} answers for {person}.")
        return redirect("people:person", shop=request.shop.slug, pk=pk)
    return answer(request, form, f"Who answers for {person}?", "Keep the guardian", person)


@WRITES
@guard(Permission.EDIT_MEMBERS)
def account(request: ShopRequest, pk: int) -> HttpResponse:
    """The account with which the person signs in, and signs others off."""
    person = get_object_or_404(Person, shop=request.shop, pk=pk)
    form = AccountForm(request.POST or None, shop=request.shop, initial={"user": person.user})
    if kept(request, form, lambda fields: actions.link_account(
        person=person, by=request.user, **fields
    )):  # fmt: skip
        messages.success(request, f"{person}: kept.")
        return redirect("people:person", shop=request.shop.slug, pk=pk)
    return answer(request, form, f"With which account does {person} sign in?", "Keep", person)


def kept(request: ShopRequest, form: forms.BaseForm, act: Callable[[dict[str, Any]], Any]) -> Any:
    """What the action gave, or None when the form or the action refused; then the form says why."""
    if request.method != "POST" or not form.is_valid():
        return None
    try:
        return act(dict(form.cleaned_data))
    except PeopleRefused as refused:
        form.add_error(refused.field if refused.field in form.fields else None, str(refused))
        return None


def answer(
    request: ShopRequest,
    form: forms.BaseForm,
    heading: str,
    button: str,
    person: Person | None = None,
    **more: Any,
) -> HttpResponse:
    """The page of a form; 422 when it was sent and something is wrong."""
    page = {"form": form, "heading": heading, "button": button, "person": person, **more}
    return render(request, "people/form.html", page, status=422 if form.is_bound else 200)
