"""More at the door: a stranger, a whole group, a waiver signed there, and what a tablet kept."""

from __future__ import annotations

from datetime import date, datetime
from uuid import UUID

from django.contrib import messages
from django.http import HttpResponse, JsonResponse
from django.shortcuts import get_object_or_404, render
from django.utils import timezone
from django.views.decorators.http import require_POST

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.access.keeping import keep_offline
from workshops.nights import actions
from workshops.nights.door import Collector
from workshops.nights.evacuating import evacuation_list
from workshops.nights.finding import night_or_404, to_night
from workshops.nights.forms_roll import DoorForm, KeptTapForm, WalkInForm
from workshops.nights.models import Group, Night
from workshops.nights.refusals import NightRefused
from workshops.nights.roll_page import roll_page
from workshops.nights.views.roll import tell_in
from workshops.people.actions import sign_waiver
from workshops.people.models import Person
from workshops.people.queries import namesakes
from workshops.people.refusals import PeopleRefused


@guard(Permission.RUN_NIGHT)
@keep_offline
def evacuation(request: ShopRequest, on: date) -> HttpResponse:
    """Everybody in the building, to be ticked at the meeting point; prints on one page."""
    night, now = night_or_404(request.shop, on), timezone.now()
    context = {"night": night, "people": evacuation_list(night, now), "now": now}
    return render(request, "nights/evacuation.html", context)


@require_POST
@guard(Permission.RUN_NIGHT)
def walk_in(request: ShopRequest, on: date) -> HttpResponse:
    """Somebody nobody knows: on the list and on the roll at once."""
    night, form = night_or_404(request.shop, on), WalkInForm(request.POST)
    if form.is_valid() and not _is_known(request, form):
        try:
            tell_in(request, actions.walk_in(
                night=night, told=form.told(), by=request.user, at=timezone.now()
            ))  # fmt: skip
            return to_night(night, "nights:roll")
        except (NightRefused, PeopleRefused) as refused:
            form.add_error(None, str(refused))
    page = roll_page(night, timezone.now())
    context = {"night": night, "page": page, "walk_in": form, "now": timezone.now()}
    return render(request, "nights/roll.html", context, status=422)


def _is_known(request: ShopRequest, form: WalkInForm) -> bool:
    """Whether somebody of that name is on the list; then the form asks whether it is them."""
    names = form.cleaned_data["first_name"], form.cleaned_data["last_name"]
    alike = namesakes(request.shop, *names).filter(is_active=True).exists()
    if not alike or form.cleaned_data["is_another"]:
        return False
    # Pressed once more, it is somebody else.
    again = request.POST.copy()
    again["is_another"] = "on"
    form.data = again
    form.add_error(
        None,
        "Somebody of that name is on the list. Is it them? Then search for the name above. "
        "If it is somebody else, press the button once more.",
    )
    return True


@require_POST
@guard(Permission.RUN_NIGHT)
def group_in(request: ShopRequest, on: date, pk: int) -> HttpResponse:
    """A whole group in."""
    night = night_or_404(request.shop, on)
    group = get_object_or_404(Group, pk=pk, night=night)
    try:
        signed = actions.sign_in_all(night=night, people=_people(group), at=timezone.now())
    except NightRefused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, f"{group}: {len(signed)} are in.")
        count = sum(bool(each.cautions) for each in signed)
        if count:
            messages.warning(request, f"{count} of them: see to what stands beside their names.")
    return to_night(night, "nights:roll")


@require_POST
@guard(Permission.RUN_NIGHT)
def group_out(request: ShopRequest, on: date, pk: int) -> HttpResponse:
    """A whole group out; its first leader takes the minors home."""
    night = night_or_404(request.shop, on)
    group = get_object_or_404(Group, pk=pk, night=night)
    leader, inside, count = group.leaders.first(), roll_page(night, timezone.now()).inside_ids, 0
    for person in _people(group):
        if person.pk in inside:
            is_leader = person in group.leaders.all()
            actions.sign_out(
                night=night, person=person, at=timezone.now(),
                collector=None if is_leader else Collector(leader),
            )  # fmt: skip
            count += 1
    messages.success(request, f"{group}: {count} are out, the minors with {leader}. Thank you!")
    return to_night(night, "nights:roll")


def _people(group: Group) -> list[Person]:
    # The leaders first: their members then have a guardian in the building.
    rows = [*group.leaders.select_related("shop"), *group.members.select_related("shop")]
    return list(dict.fromkeys(rows))


@require_POST
@guard(Permission.RUN_NIGHT)
def signed_here(request: ShopRequest, on: date, pk: int) -> HttpResponse:
    """The waiver was signed at the door."""
    night, now = night_or_404(request.shop, on), timezone.now()
    person = get_object_or_404(Person, pk=pk, shop=request.shop)
    today = now.astimezone(request.shop.zone).date()
    sign_waiver(person=person, version=str(today.year), on=today, by=request.user, at=now)
    messages.success(request, f"The waiver of {person.short_name} is kept.")
    return to_night(night, "nights:roll")


@require_POST
@guard(Permission.RUN_NIGHT)
def hand(request: ShopRequest, on: date, pk: int) -> HttpResponse:
    """Whether somebody wants a hand when the building empties in a hurry."""
    night = night_or_404(request.shop, on)
    person = get_object_or_404(Person, pk=pk, shop=request.shop)
    is_wanted = "wanted" in request.POST
    actions.ask_for_a_hand(
        person=person, is_wanted=is_wanted, by=request.user, at=timezone.now()
    )  # fmt: skip
    said = "gets a hand" if is_wanted else "needs no hand"
    messages.success(request, f"{person.short_name} {said} when everybody has to leave.")
    return to_night(night, "nights:roll")


@require_POST
@guard(Permission.RUN_NIGHT)
def kept_tap(request: ShopRequest, on: date) -> HttpResponse:
    """One word that a tablet kept while the network was down; sent twice it counts once."""
    night, tap = night_or_404(request.shop, on), KeptTapForm(request.POST)
    if not tap.is_valid():
        return JsonResponse({"is_kept": False, "says": "That word from the door is not whole."})
    at, key = tap.moment(timezone.now()), tap.cleaned_data["client_key"]
    try:
        says = _write(request, night, tap.cleaned_data["what"], at, key)
    except (NightRefused, PeopleRefused) as refused:
        return JsonResponse({"is_kept": False, "says": str(refused)})
    return JsonResponse({"is_kept": True, "says": says})


def _write(request: ShopRequest, night: Night, what: str, at: datetime, key: UUID) -> str:
    if what == "walk-in":
        form = WalkInForm(request.POST)
        if not form.is_valid():
            raise NightRefused("A walk-in needs a first name, and grown-up or under age.")
        signed = actions.walk_in(
            night=night, told=form.told(), by=request.user, at=at, client_key=key
        )  # fmt: skip
        return f"{signed.line.person} is in."
    door = DoorForm(request.POST, shop=request.shop)
    if not door.is_valid():
        raise NightRefused("That person is not on this shop's list.")
    person = door.cleaned_data["person"]
    if what == "in":
        signed = actions.sign_in(night=night, person=person, at=at, client_key=key)
        return " ".join([f"{person} is in.", *signed.cautions])
    collector = door.collector()
    actions.sign_out(
        night=night, person=person, at=at, client_key=key,
        collector=collector if collector.is_named else None,
    )  # fmt: skip
    return f"{person} is out."
