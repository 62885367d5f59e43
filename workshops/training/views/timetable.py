"""What to train for next, and the timetable."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.nights.actions import drop_training, set_training
from workshops.nights.models import TrainingDate
from workshops.nights.refusals import NightRefused
from workshops.training import actions, queries
from workshops.training.forms import DateForm


@require_GET
@guard(Permission.SEE_PEOPLE)
def training(request: ShopRequest) -> HttpResponse:
    """One-person jobs, stations seldom covered ahead, and who is nearly ready."""
    overview = queries.overview_of(request.shop, timezone.localdate())
    return render(request, "training/training.html", {"overview": overview})


@require_http_methods(["GET", "POST"])
@guard(Permission.RUN_NIGHT)
def timetable(request: ShopRequest) -> HttpResponse:
    """The timetable, proposals for it, and a form for a line of one's own."""
    today = timezone.localdate()
    form = DateForm(request.POST or None, shop=request.shop, today=today)
    if request.method == "POST" and form.is_valid():
        try:
            row = set_training(by=request.user, **form.cleaned_data)
        except NightRefused as refused:
            form.add_error(None, str(refused))
        else:
            messages.success(request, f"On the timetable: {row}.")
            return redirect("training:timetable", shop=request.shop.slug)
    page = {"timetable": queries.timetable_of(request.shop, today), "form": form}
    status = 422 if form.is_bound else 200
    return render(request, "training/timetable.html", page, status=status)


@require_POST
@guard(Permission.RUN_NIGHT)
def take(request: ShopRequest) -> HttpResponse:
    """Put all that is proposed on the timetable, or the one learner's line that is asked."""
    pairs = queries.timetable_of(request.shop, timezone.localdate()).pairs
    only = request.POST.get("only", "")
    chosen = [p for p in pairs if not only or only == f"{p.learner.person}-{p.learner.station.pk}"]
    rows, refused = actions.take_pairs(pairs=chosen, by=request.user)
    if rows:
        messages.success(request, f"{len(rows)} put on the timetable. Place the night anew.")
    for says in refused:
        messages.error(request, says)
    return redirect("training:timetable", shop=request.shop.slug)


@require_POST
@guard(Permission.RUN_NIGHT)
def drop(request: ShopRequest, pk: int) -> HttpResponse:
    """Take a line off the timetable."""
    row = get_object_or_404(TrainingDate, pk=pk, night__shop=request.shop)
    drop_training(row=row)
    messages.success(request, "Off the timetable.")
    return redirect("training:timetable", shop=request.shop.slug)
