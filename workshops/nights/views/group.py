"""A group signs up: at the door, or a week before."""

from __future__ import annotations

from datetime import date

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import get_object_or_404, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.nights.actions.group import (
    Member,
    NewGroup,
    hand_in_papers,
    name_members,
    sign_up_group,
)
from workshops.nights.finding import night_or_404, to_night
from workshops.nights.forms_group import GroupForm, age_in
from workshops.nights.groups import group_page
from workshops.nights.models import Group, Night
from workshops.nights.refusals import NightRefused
from workshops.people.refusals import PeopleRefused

WRITES = require_http_methods(["GET", "POST"])


@WRITES
@guard(Permission.RUN_NIGHT)
def new_group(request: ShopRequest, on: date) -> HttpResponse:
    """The form of a group: name, leaders, how many, papers."""
    night = night_or_404(request.shop, on)
    is_tonight = on == timezone.localdate()
    form = GroupForm(request.POST or None, shop=request.shop, is_tonight=is_tonight)
    if request.method == "POST" and form.is_valid():
        group = _signed_up(request, night, form)
        if group:
            count = group.members.count() + group.leaders.count()
            messages.success(request, f"{group}: {count} people are on the list.")
            return to_group(group)
    status = 422 if form.errors else 200
    return render(request, "nights/group_new.html", {"form": form, "night": night}, status=status)


def _signed_up(request: ShopRequest, night: Night, form: GroupForm) -> Group | None:
    try:
        new = NewGroup(**form.group())
        return sign_up_group(night=night, new=new, by=request.user, at=timezone.now())
    except (NightRefused, PeopleRefused) as refused:
        form.add_error(None, str(refused))
        return None


@WRITES
@guard(Permission.RUN_NIGHT)
def group(request: ShopRequest, on: date, pk: int) -> HttpResponse:
    """Who is of the group; POST writes names down, or says that the papers are here."""
    night = night_or_404(request.shop, on)
    row = get_object_or_404(Group.objects.select_related("night", "shop"), pk=pk, night=night)
    if request.method == "POST":
        try:
            messages.success(request, _changed(request, row))
        except (NightRefused, PeopleRefused) as refused:
            messages.error(request, str(refused))
        return to_group(row)
    return render(request, "nights/group.html", {"page": group_page(row), "night": night})


def _changed(request: ShopRequest, group: Group) -> str:
    now = timezone.now()
    if "papers" in request.POST:
        count = hand_in_papers(group=group, by=request.user, at=now)
        return f"Papers handed in: {count} waiver{'s' * (count != 1)} kept, and every consent."
    told = _told(request, group)
    changed = name_members(group=group, told=told, by=request.user, at=now)
    return f"{len(changed)} name{'s' * (len(changed) != 1)} kept."


def _told(request: HttpRequest, group: Group) -> dict[int, Member]:
    """The lines in which something was written."""
    found = {}
    for pk in group.members.values_list("pk", flat=True):
        first = request.POST.get(f"first-{pk}", "").strip()
        last = request.POST.get(f"last-{pk}", "").strip()
        age = age_in(request.POST.get(f"age-{pk}", ""))
        if first or age is not None:
            found[pk] = Member(first, last, age)
    return found


def to_group(group: Group) -> HttpResponseRedirect:
    """To the page of the group."""
    night = group.night
    return to_night(night, "nights:group", group.pk)
