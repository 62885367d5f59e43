"""My nights: yes, maybe or no."""

from __future__ import annotations

from datetime import date
from typing import Any
from urllib.parse import urlencode

from django.contrib import messages
from django.http import Http404, HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.mine import queries
from workshops.mine.forms import AnswerForm
from workshops.mine.views.finding import chosen, of_somebody
from workshops.nights.actions import sign_up
from workshops.nights.actions.calendar import Bringing
from workshops.nights.models import Night, SignUp
from workshops.nights.queries import night_on
from workshops.nights.refusals import NightRefused
from workshops.people.models import Person

ANSWERS = [("yes", "Yes"), ("maybe", "Maybe"), ("no", "No")]
BRINGS = ("guests", "guest_names", "note")


@guard(Permission.SEE_MINE)
@of_somebody
def nights(request: ShopRequest, person: Person) -> HttpResponse:
    """The nights to come with a button for each answer, and those behind."""
    whom, everybody = chosen(request, person)
    page = {"whom": whom, "me": person, "everybody": everybody, "answers": ANSWERS}
    page["nights"] = queries.nights_of(whom, timezone.localdate())
    return render(request, "mine/nights.html", page)


@require_http_methods(["GET", "POST"])
@guard(Permission.SEE_MINE)
@of_somebody
def answer(request: ShopRequest, person: Person, on: date) -> HttpResponse:
    """Answer for one night: one press, or with times, guests and a note."""
    whom, _ = chosen(request, person)
    night = night_on(request.shop, on)
    if night is None or on < timezone.localdate():
        raise Http404("There is no night to come on that day.")
    before = queries.answer_of(whom, night)
    form = AnswerForm(_given(request, before), initial=_kept(before))
    if request.method == "POST" and form.is_valid() and _answered(form, night, whom):
        messages.success(request, _told(request, night, whom))
        return HttpResponseRedirect(_nights_of(request, whom, person))
    page = {"form": form, "night": night, "whom": whom, "me": person}
    page["back"] = _nights_of(request, whom, person)
    return render(request, "mine/answer.html", page, status=422 if form.errors else 200)


def _given(request: ShopRequest, before: SignUp | None) -> dict[str, Any] | None:
    if request.method != "POST":
        return None
    if "full" in request.POST:
        return request.POST.dict()
    # One press changes the answer and nothing else that was said.
    return _kept(before) | {"answer": request.POST.get("answer", "")}


def _kept(before: SignUp | None) -> dict[str, Any]:
    if before is None:
        return {}
    return {name: getattr(before, name) for name in ("answer", "arrives", "leaves", *BRINGS)}


def _answered(form: AnswerForm, night: Night, whom: Person) -> bool:
    given = dict(form.cleaned_data)
    brings = {name: given.pop(name) for name in BRINGS}
    bringing = Bringing(**(brings | {"guests": brings["guests"] or 0}))
    try:
        sign_up(night=night, person=whom, at=timezone.now(), bringing=bringing, **given)
    except NightRefused as refused:
        form.add_error(None, str(refused))
        return False
    return True


def _told(request: ShopRequest, night: Night, whom: Person) -> str:
    said = SignUp.Answer(request.POST["answer"]).label
    return f"{night.date:%A} {night.date.day} {night.date:%B}: {whom.first_name} is {_put(said)}."


def _put(said: str) -> str:
    return "perhaps coming" if said == SignUp.Answer.MAYBE.label else said


def _nights_of(request: ShopRequest, whom: Person, me: Person) -> str:
    page = reverse("mine:nights", args=[request.shop.slug])
    return page if whom == me else f"{page}?{urlencode({'for': whom.pk})}"
