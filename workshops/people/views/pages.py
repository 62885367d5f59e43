"""The pages that read: the list, the sign-off matrix, a person."""

from __future__ import annotations

from datetime import date

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.access.roles import permissions_of
from workshops.people import queries
from workshops.people.beside import words_about
from workshops.people.models import Erasure, Person
from workshops.people.queries import PersonPage, Show

# The last of these tells who is under age, which is private.
LIST_SHOWS = {
    Show.ALL: "Everybody", Show.COMING: "Coming next night", Show.LAPSED: "Lapsed",
    Show.LAPSING: "Lapses soon", Show.BARRED: "Barred", Show.NO_WAIVER: "No waiver",
    Show.GONE: "Off the list", Show.MINORS: "Minors",
}  # fmt: skip
MATRIX_SHOWS = {
    Show.ALL: "Everybody", Show.COMING: "Coming next night", Show.LAPSED: "Lapsed",
    Show.LAPSING: "Lapses soon", Show.NEARLY: "Nearly ready", Show.BARRED: "Barred",
}  # fmt: skip


@guard(Permission.SEE_PEOPLE)
def people(request: ShopRequest) -> HttpResponse:
    """The people list: search and filter; the lines alone for htmx."""
    may = permissions_of(request.member.role)
    shows = dict(LIST_SHOWS)
    if Permission.SEE_PRIVATE not in may:
        del shows[Show.MINORS]
    on, words, show = asked(request, tuple(shows))
    coming = queries.coming_next(request.shop, on) if show is Show.COMING else ()
    lines = queries.people_of(request.shop, on, words=words, show=show, coming=coming)
    page = {"lines": lines, "words": words, "show": show, "shows": shows, "on": on}
    return render(request, "people/_list.html" if request.htmx else "people/list.html", page)


@guard(Permission.SEE_PEOPLE)
def matrix(request: ShopRequest) -> HttpResponse:
    """Person by station on a day; the table alone for htmx."""
    on, words, show = asked(request, tuple(MATRIX_SHOWS))
    coming = queries.coming_next(request.shop, on) if show is Show.COMING else ()
    page = {
        "matrix": queries.matrix_of(request.shop, on, words=words, show=show, coming=coming),
        "words": words, "show": show, "on": on, "today": timezone.localdate(),
        "shows": MATRIX_SHOWS,
    }  # fmt: skip
    return render(request, "people/_matrix.html" if request.htmx else "people/matrix.html", page)


@guard(Permission.SEE_PEOPLE)
def person(request: ShopRequest, pk: int) -> HttpResponse:
    """A person: what they may do and why not, who signed it, bars, waiver, hours."""
    row = get_object_or_404(Person, shop=request.shop, pk=pk)
    if row.merged_into_id:
        messages.info(request, f"No. {pk} is now known by this entry.")
        return redirect("people:person", shop=request.shop.slug, pk=row.merged_into_id)
    page = queries.person_page(row, timezone.localdate())
    # Age and limits stay out, for those too who may see them: to look is a press of its own.
    lines = [(line, [reason.in_public() for reason in line.answer.reasons]) for line in page.lines]
    known = [each for each in lines if each[0].is_known]
    rest = [each for each in lines if not each[0].is_known]
    # Whoever was erased is off the list: nothing is asked for everybody else.
    gone = None if row.is_active else Erasure.objects.filter(person=row).first()
    shown = {"page": page, "known": known, "rest": rest, "erasure": gone}
    shown["words"] = words_about(row)
    return render(request, "people/person.html", shown | _totals(page))


def _totals(page: PersonPage) -> dict[str, object]:
    today = timezone.localdate()
    open_bars = [
        bar for bar in page.bars
        if bar.lifted_at is None and (bar.until is None or bar.until >= today)
    ]  # fmt: skip
    hours, minutes = divmod(page.minutes, 60)
    nights = len({night for night, _ in page.stays})
    return {
        "hours": f"{hours}:{minutes:02}",
        "open_bars": open_bars,
        "past_bars": [bar for bar in page.bars if bar not in open_bars],
        "nights_note": f"on {nights} night{'s' * (nights != 1)}",
    }


def asked(request: ShopRequest, shows: tuple[Show, ...]) -> tuple[date, str, Show]:
    """The day, words and filter in the address; what makes no sense is left out."""
    show = request.GET.get("show", "")
    try:
        on = date.fromisoformat(request.GET.get("on", ""))
    except ValueError:
        on = timezone.localdate()
    words = request.GET.get("q", "").strip()
    return on, words, Show(show) if show in shows else Show.ALL
