"""My sign-offs, my hours, my calendar, my details."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse, JsonResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.mine import actions, queries
from workshops.mine.changing import change_details
from workshops.mine.forms import CalendarForm, DetailsForm
from workshops.mine.views.finding import of_somebody
from workshops.people.actions import look_at
from workshops.people.models import Look, Person
from workshops.people.queries import person_page
from workshops.people.refusals import PeopleRefused
from workshops.people.telling import as_file, everything_of

WRITES = require_http_methods(["GET", "POST"])


@guard(Permission.SEE_MINE)
@of_somebody
def sign_offs(request: ShopRequest, person: Person) -> HttpResponse:
    """What I may do today, until when, and what would make it so."""
    page = person_page(person, timezone.localdate())
    may = [line for line in page.lines if line.answer.ok]
    rest = [line for line in page.lines if not line.answer.ok]
    shown = {"page": page, "groups": [("I may work at", may), ("Not today", rest)]}
    return render(request, "mine/sign_offs.html", shown)


@guard(Permission.SEE_MINE)
@of_somebody
def hours(request: ShopRequest, person: Person) -> HttpResponse:
    """My nights and hours of this winter, from the roll."""
    found = queries.hours_of(person, timezone.localdate())
    whole, rest = divmod(found.minutes, 60)
    return render(request, "mine/hours.html", {"hours": found, "sum": f"{whole}:{rest:02}"})


@WRITES
@guard(Permission.SEE_MINE)
@of_somebody
def details(request: ShopRequest, person: Person) -> HttpResponse:
    """What the club keeps of me, mine to change."""
    form = DetailsForm(request.POST or None, instance=person)
    if request.method == "POST" and form.is_valid() and _kept(request, form):
        messages.success(request, "Your details are kept.")
        return redirect("mine:details", shop=request.shop.slug)
    return render(request, "mine/details.html", {"form": form}, status=422 if form.errors else 200)


def _kept(request: ShopRequest, form: DetailsForm) -> bool:
    # The form has changed the row it was given; the action starts from what is in the database.
    row = get_object_or_404(Person, shop=request.shop, pk=form.instance.pk)
    try:
        change_details(person=row, fields=form.cleaned_data, by=request.user)
    except PeopleRefused as refused:
        form.add_error(refused.field if refused.field in form.fields else None, str(refused))
        return False
    return True


@require_safe
@guard(Permission.SEE_MINE)
@of_somebody
def everything(request: ShopRequest, person: Person) -> HttpResponse:
    """All the shop holds about me, to read."""
    page = {"person": person, "sections": everything_of(person)}
    return render(request, "mine/everything.html", page)


@require_safe
@guard(Permission.SEE_MINE)
@of_somebody
def everything_file(request: ShopRequest, person: Person) -> HttpResponse:
    """The same as a file; that it was taken is written down, also for oneself."""
    look_at([person], what=tuple(Look.Kept), page="the file of everything, by oneself",
            by=request.user, is_own=True)  # fmt: skip
    answer = JsonResponse(as_file(person, timezone.now()), json_dumps_params={"indent": 2})
    answer["Content-Disposition"] = f'attachment; filename="{request.shop.slug}-my-details.json"'
    answer["Cache-Control"] = "no-store"
    return answer


@WRITES
@guard(Permission.SEE_MINE)
@of_somebody
def calendar(request: ShopRequest, person: Person) -> HttpResponse:
    """The address of my calendar; POST renews it, or says what it shows."""
    if request.method == "POST":
        _changed(request, person)
        return redirect("mine:feed", shop=request.shop.slug)
    feed = actions.feed_of(person=person)
    address = request.build_absolute_uri(reverse("mine:calendar", args=[feed.secret]))
    form = CalendarForm(initial={"has_all_nights": feed.has_all_nights})
    return render(request, "mine/calendar.html", {"feed": feed, "address": address, "form": form})


def _changed(request: ShopRequest, person: Person) -> None:
    if "renew" in request.POST:
        actions.renew_feed(person=person)
        messages.success(request, "The calendar has a new address; the old one finds nothing.")
        return
    form = CalendarForm(request.POST)
    form.is_valid()  # one box, ticked or not: nothing can be wrong with it
    actions.show_all_nights(person=person, **form.cleaned_data)
    messages.success(request, "Kept. Your telephone shows it the next time it looks.")
