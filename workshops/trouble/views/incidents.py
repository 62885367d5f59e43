"""One incident and the list of them; injuries only for those who may see what is private."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.cache import cache_control
from django.views.decorators.http import require_GET, require_POST

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.access.roles import permissions_of
from workshops.club.queries import rules_of
from workshops.nights.queries import names_in
from workshops.people.refusals import PeopleRefused
from workshops.trouble import queries
from workshops.trouble.actions import TroubleRefused, add_words, has_leads, let_see_a_lead
from workshops.trouble.forms import WordsForm
from workshops.trouble.models import Trouble

LATEST = 100


@require_GET
@guard(Permission.RUN_NIGHT)
def incidents(request: ShopRequest) -> HttpResponse:
    """Everything that happened, the latest first."""
    rows = queries.troubles_of(request.shop, permissions_of(request.member.role))[:LATEST]
    return render(request, "trouble/list.html", {"troubles": rows})


# It may name somebody who was hurt: nothing of it stays in the browser's memory.
@cache_control(no_store=True)
@guard(Permission.RUN_NIGHT)
def one(request: ShopRequest, pk: int) -> HttpResponse:
    """What happened, who stood there, what was added; words are added here."""
    row = _found(request, pk)
    form = WordsForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        name = request.user.signs_as
        add_words(trouble=row, written_by=name, at=timezone.now(), **form.cleaned_data)
        messages.success(request, "Added.")
        return redirect("trouble:one", shop=request.shop.slug, pk=pk)
    names = names_in(request.shop)
    page = {
        "row": row, "night": row.night, "form": form,
        "people": [names[person.pk] for person in row.people.all()],
        "stood": [(names[each.person_id], each) for each in row.stood.all()],
        "offers_a_lead": _offers_a_lead(row),
    }  # fmt: skip
    return render(request, "trouble/one.html", page, status=422 if form.errors else 200)


@require_POST
@guard(Permission.BAR_PEOPLE)
def see_lead(request: ShopRequest, pk: int) -> HttpResponse:
    """Those who work alone at the station go on beside a lead, where the club says so."""
    row = _found(request, pk)
    try:
        found = let_see_a_lead(trouble=row, by=request.user, at=timezone.now())
    except (TroubleRefused, PeopleRefused) as refused:
        messages.error(request, str(refused))
    else:
        names = names_in(request.shop)
        said = ", ".join(names[person.pk] for person in found)
        messages.success(request, f"Beside a lead from now on: {said or 'nobody anew'}.")
    return redirect("trouble:one", shop=request.shop.slug, pk=pk)


def _offers_a_lead(row: Trouble) -> bool:
    is_case = row.kind == Trouble.Kind.HURT and row.station is not None and has_leads(row.station)
    return is_case and rules_of(row.shop).see_lead_after_injury


def _found(request: ShopRequest, pk: int) -> Trouble:
    row = queries.one_trouble(request.shop, pk, permissions_of(request.member.role))
    if row is None:
        raise Http404("There is no such incident, or it is not for you to see.")
    return row
