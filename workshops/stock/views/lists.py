"""Lists in: choose a file, see each row's fate, write all of it or nothing."""

from __future__ import annotations

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.core.paginator import Paginator
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.access.roles import permissions_of
from workshops.common.models import Upload
from workshops.common.uploads import choose, keep_upload, throw_away, upload_of, uploads_of
from workshops.stock.exchange.commit import ListGone, ListRefused, commit
from workshops.stock.exchange.fates import Fate
from workshops.stock.exchange.kinds import KINDS, MOVEMENTS
from workshops.stock.exchange.preview import Preview, preview_of
from workshops.stock.forms.lists import BringForm, SpanForm

LEAF = 100  # rows to a leaf: a list of 5,000 would weigh two megabytes as one page


@require_GET
@guard(Permission.SEE_STOCK)
def lists(request: ShopRequest) -> HttpResponse:
    """Everything that can come in or go out."""
    return _lists(request, BringForm(shop=request.shop, may=_may(request)))


def _lists(request: ShopRequest, form: BringForm) -> HttpResponse:
    page = {
        "form": form,
        "span": SpanForm(),
        "kinds": KINDS.values(),
        "dated": MOVEMENTS.key,
        "waiting": uploads_of(request.shop, request.user, list(KINDS)),
    }
    return render(request, "stock/lists.html", page, status=422 if form.is_bound else 200)


def _may(request: ShopRequest) -> frozenset[Permission]:
    return permissions_of(request.member.role)


@require_POST
@guard(Permission.POST_STOCK)
def bring_list(request: ShopRequest) -> HttpResponse:
    """Keep a file until its rows were looked at."""
    form = BringForm(request.POST, request.FILES, shop=request.shop, may=_may(request))
    if not form.is_valid():
        return _lists(request, form)
    upload = keep_upload(
        shop=request.shop, kind=form.list_kind.key, name=form.cleaned_data["file"].name,
        data=form.content, by=request.user, at=timezone.now(), choices=form.choices_made,
    )  # fmt: skip
    return redirect("stock:list", shop=request.shop.slug, pk=upload.pk)


@require_GET
@guard(Permission.POST_STOCK)
def brought_list(request: ShopRequest, pk: int) -> HttpResponse:
    """What would become of each row."""
    return _fates(request, preview_of(_upload(request, pk)))


def _fates(request: ShopRequest, preview: Preview, *, is_stale: bool = False) -> HttpResponse:
    asked = request.GET.get("fate", "")
    fate = asked if asked in {each.value for each in Fate} else ""
    rows = preview.rows(fate)
    page = {
        "preview": preview,
        "fate": fate,
        "leaf": Paginator(rows, LEAF).get_page(request.GET.get("page", "1")),
        "refused": preview.plan.counts[Fate.REFUSED],
        "is_stale": is_stale,
        "may_add_places": Permission.EDIT_STOCK in _may(request),
    }
    return render(request, "stock/list.html", page, status=409 if is_stale else 200)


@require_POST
@guard(Permission.POST_STOCK)
def write_list(request: ShopRequest, pk: int) -> HttpResponse:
    """Write all of it, when every row still comes to the fate that was seen."""
    upload = _upload(request, pk)
    try:
        done = commit(upload, seen=request.POST.get("seen", ""), by=request.user, at=timezone.now())
    except ListGone as gone:
        messages.warning(request, str(gone))
        return redirect("stock:lists", shop=request.shop.slug)
    except ListRefused as refused:
        messages.error(request, f"Nothing was written. {refused}")
        return _fates(request, preview_of(upload), is_stale=True)
    if not done.is_written:
        return _fates(request, done.preview, is_stale=True)
    told = ", ".join(f"{count} × {word}" for _, word, count in done.preview.told)
    messages.success(request, f"Written: {upload.name}. {told}.")
    return redirect("stock:lists", shop=request.shop.slug)


@require_POST
@guard(Permission.EDIT_STOCK)
def add_places(request: ShopRequest, pk: int) -> HttpResponse:
    """Let the list add the places that it names; they are added when it is written."""
    choose(_upload(request, pk), places=True)
    return redirect("stock:list", shop=request.shop.slug, pk=pk)


@require_POST
@guard(Permission.POST_STOCK)
def throw_list(request: ShopRequest, pk: int) -> HttpResponse:
    """Throw the file away; nothing of it was written."""
    throw_away(_upload(request, pk))
    messages.success(request, "Thrown away: nothing of it was written.")
    return redirect("stock:lists", shop=request.shop.slug)


def _upload(request: ShopRequest, pk: int) -> Upload:
    found = upload_of(request.shop, request.user, pk)
    if found is None or found.kind not in KINDS:
        raise Http404("There is no such list of yours: it was written, or thrown away.")
    # What a person may do can have changed since they brought it.
    if KINDS[found.kind].permission not in _may(request):
        raise PermissionDenied("Your role here does not allow bringing in this list.")
    return found
