"""The pages that write the register: sign off, enter from paper, bar, lift a bar."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils import timezone
from django.views.decorators.http import require_POST

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.access.roles import permissions_of
from workshops.people import actions, queries
from workshops.people.days import spell_day
from workshops.people.forms import BarForm, PaperSignOffForm, ReviewForm, SignOffForm
from workshops.people.models import Bar, Person, SignOff
from workshops.people.refusals import PeopleRefused
from workshops.people.views.keeping import WRITES, answer, kept


@WRITES
@guard(Permission.SIGN_OFF)
def sign(request: ShopRequest, pk: int) -> HttpResponse:
    """Sign a person off for a station."""
    person = get_object_or_404(Person, shop=request.shop, pk=pk)
    form = SignOffForm(
        request.POST or None, shop=request.shop, signers=signers_for(request, person),
        today=timezone.localdate(), initial=request.GET.dict(),
    )  # fmt: skip
    row = kept(request, form, lambda fields: actions.sign_off(
        person=person, by=request.user, **fields
    ))  # fmt: skip
    if row:
        until = f", until {spell_day(row.valid_until)}" if row.valid_until else ""
        messages.success(request, f"Signed: {row}{until}.")
        return redirect("people:person", shop=request.shop.slug, pk=pk)
    says = "" if signers_for(request, person) else NO_SIGNER
    return answer(
        request, form, f"How far may {person} go?", "Sign", person, says=says, asks="station"
    )


NO_SIGNER = (
    "You cannot sign here: your account belongs to no authoriser whose sign-off counts today. "
    "Ask the coordinator to link it to your name on the list."
)


def signers_for(request: ShopRequest, person: Person) -> list[Person]:
    """Who may stand as the signer: oneself; whoever keeps the list may enter for any of them."""
    signers = [
        each
        for each in queries.authorisers_of(request.shop, timezone.localdate())
        if each != person
    ]
    if Permission.EDIT_PEOPLE in permissions_of(request.member.role):
        return signers
    return [each for each in signers if each.user_id == request.user.pk]


@WRITES
@guard(Permission.EDIT_PEOPLE)
def enter(request: ShopRequest, pk: int) -> HttpResponse:
    """Take a sign-off over from the club's own register."""
    person = get_object_or_404(Person, shop=request.shop, pk=pk)
    form = PaperSignOffForm(request.POST or None, shop=request.shop)
    row = kept(request, form, lambda fields: actions.enter_sign_off(
        person=person, by=request.user, **fields
    ))  # fmt: skip
    if row:
        messages.success(request, f"Entered: {row}.")
        return redirect("people:person", shop=request.shop.slug, pk=pk)
    return answer(request, form, f"What does the register say of {person}?", "Enter", person)


@WRITES
@guard(Permission.BAR_PEOPLE)
def bar(request: ShopRequest, pk: int) -> HttpResponse:
    """Stop a person at once."""
    person = get_object_or_404(Person, shop=request.shop, pk=pk)
    form = BarForm(request.POST or None, shop=request.shop)
    if kept(request, form, lambda fields: actions.set_bar(
        person=person, by=request.user, **fields
    )):  # fmt: skip
        beside = form.cleaned_data["only_with_a_lead"]
        told = "works there only beside a lead" if beside else "is barred"
        messages.success(request, f"{person} {told} from now on.")
        return redirect("people:person", shop=request.shop.slug, pk=pk)
    return answer(request, form, f"What must {person} stay away from?", "Bar at once", person)


@require_POST
@guard(Permission.BAR_PEOPLE)
def lift(request: ShopRequest, pk: int, bar: int) -> HttpResponse:
    """End a bar."""
    row = get_object_or_404(Bar, shop=request.shop, person=pk, pk=bar)
    try:
        actions.lift_bar(bar=row, by=request.user)
        messages.success(request, "The bar is lifted.")
    except PeopleRefused as refused:
        messages.error(request, str(refused))
    return redirect("people:person", shop=request.shop.slug, pk=pk)


@WRITES
@guard(Permission.BAR_PEOPLE)
def review(request: ShopRequest, pk: int, sign_off: int) -> HttpResponse:
    """Look again at a sign-off: it stands, counts no more, or was a mistake."""
    row = get_object_or_404(
        SignOff.objects.select_related("person", "station", "signed_by"),
        shop=request.shop, person=pk, pk=sign_off,
    )  # fmt: skip
    form = ReviewForm(request.POST or None)
    looker = Person.objects.filter(shop=request.shop, user=request.user).first()
    found = kept(request, form, lambda fields: actions.review(
        sign_off=row, reviewer=looker, by=request.user, **fields
    ))  # fmt: skip
    if found:
        messages.success(request, f"Kept: {found}.")
        if row.signed_by_id and request.POST.get("from") == "signed":
            return redirect("people:signed", shop=request.shop.slug, pk=row.signed_by_id)
        return redirect("people:person", shop=request.shop.slug, pk=pk)
    heading = f"Is the sign-off of {row.person} for {row.station} still right?"
    return answer(request, form, heading, "Keep what was found", row.person, row=row)
