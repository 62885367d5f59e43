"""Lists of people: bring a file, see each row's fate, write all of it or nothing; take one out."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from io import BytesIO

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.access.roles import permissions_of
from workshops.common.fates import Fate
from workshops.common.models import Upload
from workshops.common.sheets import Cell, write_csv, write_xlsx
from workshops.common.uploads import keep_upload, throw_away, upload_of, uploads_of
from workshops.people.exchange.commit import (
    KIND,
    ListGone,
    Preview,
    answer_rows,
    commit,
    preview_of,
)
from workshops.people.exchange.outgoing import rows_out, template_rows
from workshops.people.exchange.plan import WORDS
from workshops.people.forms import BringForm
from workshops.people.looking import EVERYTHING, look_at
from workshops.people.refusals import PeopleRefused

LEAF = 100
CSV, XLSX = "csv", "xlsx"
XLSX_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


@require_GET
@guard(Permission.SEE_PEOPLE)
def lists(request: ShopRequest) -> HttpResponse:
    """What can come in and go out."""
    return _lists(request, BringForm(shop=request.shop))


def _lists(request: ShopRequest, form: BringForm) -> HttpResponse:
    page = {"form": form, "waiting": uploads_of(request.shop, request.user, [KIND])}
    return render(request, "people/lists.html", page, status=422 if form.is_bound else 200)


@require_POST
@guard(Permission.EDIT_PEOPLE)
def bring(request: ShopRequest) -> HttpResponse:
    """Keep a file until its rows were looked at."""
    form = BringForm(request.POST, request.FILES, shop=request.shop)
    if not form.is_valid():
        return _lists(request, form)
    upload = keep_upload(
        shop=request.shop, kind=KIND, name=form.cleaned_data["file"].name, data=form.content,
        by=request.user, at=timezone.now(),
    )  # fmt: skip
    return redirect("people:brought", shop=request.shop.slug, pk=upload.pk)


@require_GET
@guard(Permission.EDIT_PEOPLE)
def brought(request: ShopRequest, pk: int) -> HttpResponse:
    """What would become of each row."""
    return _fates(request, preview_of(_upload(request, pk)))


def _fates(request: ShopRequest, preview: Preview, *, is_stale: bool = False) -> HttpResponse:
    asked = request.GET.get("fate", "")
    fate = asked if asked in {each.value for each in Fate} else ""
    leaf = Paginator(preview.rows(fate), LEAF).get_page(request.GET.get("page", "1"))
    for row in leaf:
        # A change shows what is kept of somebody; to show it is a look.
        if row.number in preview.plan.looks:
            person, what = preview.plan.looks[row.number]
            look_at([person], what=sorted(what), page="a list that came in", by=request.user)
    page = {
        "preview": preview, "fate": fate, "leaf": leaf, "words": WORDS, "is_stale": is_stale,
        "refused": preview.plan.counts[Fate.REFUSED], "asks": preview.plan.counts[Fate.ASKS],
    }  # fmt: skip
    return render(request, "people/brought.html", page, status=409 if is_stale else 200)


@require_POST
@guard(Permission.EDIT_PEOPLE)
def answer_list(request: ShopRequest, pk: int) -> HttpResponse:
    """Keep who is meant by the rows that ask."""
    upload = _upload(request, pk)
    named = {key.removeprefix("row-"): str(value) for key, value in request.POST.items()
             if key.startswith("row-")}  # fmt: skip
    answer_rows(upload, named)
    return redirect("people:brought", shop=request.shop.slug, pk=pk)


@require_POST
@guard(Permission.EDIT_PEOPLE)
def write_list(request: ShopRequest, pk: int) -> HttpResponse:
    """Write all of it, when every row still comes to the fate that was seen."""
    upload, seen = _upload(request, pk), request.POST.get("seen", "")
    try:
        preview, is_written = commit(upload, seen=seen, by=request.user, at=timezone.now())
    except ListGone as gone:
        messages.warning(request, str(gone))
        return redirect("people:lists", shop=request.shop.slug)
    except PeopleRefused as refused:
        messages.error(request, f"Nothing was written. {refused}")
        return _fates(request, preview_of(upload), is_stale=True)
    if not is_written:
        return _fates(request, preview, is_stale=True)
    told = ", ".join(f"{count} × {word}" for _, word, count in preview.told)
    messages.success(request, f"Written: {upload.name}. {told}.")
    return redirect("people:lists", shop=request.shop.slug)


@require_POST
@guard(Permission.EDIT_PEOPLE)
def throw_list(request: ShopRequest, pk: int) -> HttpResponse:
    """Throw the file away; nothing of it was written."""
    throw_away(_upload(request, pk))
    messages.success(request, "Thrown away: nothing of it was written.")
    return redirect("people:lists", shop=request.shop.slug)


@require_GET
@guard(Permission.SEE_PEOPLE)
def take_out(request: ShopRequest, form: str) -> HttpResponse:
    """Everybody on the list; what is private only for those who may see it, and looked at."""
    _refuse_unknown(form)
    is_private = Permission.SEE_PRIVATE in permissions_of(request.member.role)
    people, rows = rows_out(request.shop, is_private=is_private)
    if is_private:
        look_at(people, what=EVERYTHING, page="the list taken out", by=request.user)
    today = timezone.now().astimezone(request.shop.zone).date()
    return _sent(rows, form, f"{request.shop.slug}-people-{today}")


@require_GET
@guard(Permission.EDIT_PEOPLE)
def to_fill_in(request: ShopRequest, form: str) -> HttpResponse:
    """The headings and one example."""
    _refuse_unknown(form)
    return _sent(template_rows(request.shop), form, "people-to-fill-in")


def _refuse_unknown(form: str) -> None:
    if form not in (CSV, XLSX):
        raise Http404("There is no such list.")


def _sent(rows: Iterable[Sequence[Cell]], form: str, name: str) -> HttpResponse:
    if form == CSV:
        answer = HttpResponse(write_csv(rows), content_type="text/csv; charset=utf-8")
    else:
        file = BytesIO()
        write_xlsx(rows, title="People", file=file)
        answer = HttpResponse(file.getvalue(), content_type=XLSX_TYPE)
    answer["Content-Disposition"] = f'attachment; filename="{name}.{form}"'
    return answer


def _upload(request: ShopRequest, pk: int) -> Upload:
    found = upload_of(request.shop, request.user, pk)
    if found is None or found.kind != KIND:
        raise Http404("There is no such list of yours: it was written, or thrown away.")
    return found
