"""Everything that is kept of one person, to read and to take along; and its end."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse, JsonResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.people.actions import look_at
from workshops.people.alike import full_name
from workshops.people.erase import erase as erase_now
from workshops.people.erase import preview_erase
from workshops.people.looking import EVERYTHING
from workshops.people.models import Erasure, Person
from workshops.people.refusals import EraseRefused
from workshops.people.telling import as_file, everything_of

LATEST = 200


@require_GET
@guard(Permission.ERASE_PEOPLE)
def everything(request: ShopRequest, pk: int) -> HttpResponse:
    """All the shop holds about one person, to read; it is written down as a look."""
    person = get_object_or_404(Person, shop=request.shop, pk=pk)
    look_at([person], what=EVERYTHING, page="everything that is kept", by=request.user, is_own=True)
    page = {"person": person, "sections": everything_of(person)}
    return render(request, "people/everything.html", page)


@require_GET
@guard(Permission.ERASE_PEOPLE)
def everything_file(request: ShopRequest, pk: int) -> HttpResponse:
    """The same as a file."""
    person = get_object_or_404(Person, shop=request.shop, pk=pk)
    look_at([person], what=EVERYTHING, page="the file of everything that is kept",
            by=request.user, is_own=True)  # fmt: skip
    answer = JsonResponse(as_file(person, timezone.now()), json_dumps_params={"indent": 2})
    name = f"{person.shop.slug}-person-{person.pk}.json"
    answer["Content-Disposition"] = f'attachment; filename="{name}"'
    answer["Cache-Control"] = "no-store"
    return answer


@require_http_methods(["GET", "POST"])
@guard(Permission.ERASE_PEOPLE)
def erase(request: ShopRequest, pk: int) -> HttpResponse:
    """What an erase takes and what it keeps; with the name written out, it is done."""
    person = get_object_or_404(Person, shop=request.shop, pk=pk)
    page: dict[str, object] = {"person": person}
    is_sent = request.method == "POST"
    try:
        if is_sent and _is_meant(request, person):
            done = erase_now(person=person, by=request.user)
            messages.success(request, f"Erased. The entry is called {done.name} from now on.")
            return redirect("people:person", shop=request.shop.slug, pk=pk)
        page["done"] = preview_erase(person, by=request.user)
        page["is_misspelled"] = is_sent
    except EraseRefused as refused:
        page["stops"] = refused.sentences
    return render(request, "people/erase.html", page, status=409 if is_sent else 200)


def _is_meant(request: ShopRequest, person: Person) -> bool:
    """Whether the name was written out, whatever its capitals and blanks."""
    typed = " ".join(request.POST.get("name", "").casefold().split())
    return bool(typed) and typed == full_name(person)


@require_GET
@guard(Permission.ERASE_PEOPLE)
def erased(request: ShopRequest) -> HttpResponse:
    """Which numbers were erased, when, and by whom."""
    rows = Erasure.objects.filter(shop=request.shop)[:LATEST]
    return render(request, "people/erased.html", {"rows": rows})
