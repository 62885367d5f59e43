"""The re-sign evening: lists, paper, and one person after another."""

from __future__ import annotations

from datetime import date

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.template.loader import render_to_string
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.access.roles import permissions_of
from workshops.common.pdf import PaperRefused, pdf_from_html
from workshops.people.actions import PeopleRefused, sign_off
from workshops.people.gate import register_on
from workshops.people.models import Person
from workshops.people.queries import authorisers_of
from workshops.stations.models import Station
from workshops.training.forms import ResignForm
from workshops.training.resign import Evening, SignerList, evening_of


@require_GET
@guard(Permission.SEE_PEOPLE)
def resign(request: ShopRequest) -> HttpResponse:
    """Who signs whom again, authorisers first, with what is done by now."""
    evening = _evening(request)
    page = {"evening": evening, "today": timezone.localdate(), "chosen": _chosen(request, evening)}
    return render(request, "training/resign.html", page)


def _chosen(request: ShopRequest, evening: Evening) -> SignerList | None:
    """The list asked for, else one's own, else the first: all at once are too long for a tablet."""
    mine = Person.objects.filter(shop=request.shop, user=request.user).first()
    asked = request.GET.get("signer", "")
    for wanted in (asked, str(mine.pk) if mine else ""):
        for each in evening.lists:
            if str(each.signer) == wanted:
                return each
    return evening.lists[0] if evening.lists else None


@require_GET
@guard(Permission.SEE_PEOPLE)
def resign_paper(request: ShopRequest) -> HttpResponse:
    """The lists as a PDF, a page for each authoriser."""
    evening = _evening(request)
    page = {"evening": evening, "shop": request.shop}
    try:
        data = pdf_from_html(render_to_string("training/resign_paper.html", page))
    except PaperRefused as refused:
        messages.error(request, str(refused))
        return redirect("training:resign", shop=request.shop.slug)
    answer = HttpResponse(data, content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="re-sign-{evening.on}.pdf"'
    return answer


def _evening(request: ShopRequest) -> Evening:
    on = _day(request.GET.get("on", "")) or timezone.localdate()
    return evening_of(request.shop, on, _day(request.GET.get("until", "")))


def _day(text: str) -> date | None:
    try:
        return date.fromisoformat(text)
    except ValueError:
        return None


@require_http_methods(["GET", "POST"])
@guard(Permission.SIGN_OFF)
def resign_one(request: ShopRequest, person: int, station: int) -> HttpResponse:
    """Tick what one person showed, and sign at the level they had."""
    who = get_object_or_404(Person, shop=request.shop, pk=person)
    place = get_object_or_404(Station, shop=request.shop, pk=station, is_in_use=True)
    today = timezone.localdate()
    signed = register_on(request.shop, today).signed(who.pk, place.pk)
    if signed is None:
        raise Http404("There is no sign-off to sign again.")
    level = signed.given or signed.level
    signers = _signers(request, who, place)
    form = ResignForm(request.POST or None, station=place, signers=signers)
    if request.method == "POST" and form.is_valid():
        try:
            row = sign_off(
                person=who, station=place, level=level, on=today, by=request.user,
                **form.cleaned_data,
            )  # fmt: skip
        except PeopleRefused as refused:
            form.add_error(refused.field if refused.field in form.fields else None, str(refused))
        else:
            messages.success(request, f"Signed again: {row}.")
            return redirect("training:resign", shop=request.shop.slug)
    page = {"form": form, "person": who, "station": place, "level": level, "signers": signers}
    return render(request, "training/resign_one.html", page | {"signed": signed},
                  status=422 if form.is_bound else 200)  # fmt: skip


def _signers(request: ShopRequest, person: Person, station: Station) -> list[Person]:
    """Oneself; whoever keeps the list may enter for any authoriser of the station."""
    able = authorisers_of(request.shop, timezone.localdate(), station)
    able = [each for each in able if each != person]
    if Permission.EDIT_PEOPLE in permissions_of(request.member.role):
        return able
    return [each for each in able if each.user_id == request.user.pk]
