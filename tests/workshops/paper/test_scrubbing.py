"""Printed cards that name somebody go with them, file and all."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

from django.core.files.base import ContentFile
from django.core.files.storage import default_storage

from inventory.places.models import Shop
from tests.factories import TODAY, make_night, make_person, make_station
from workshops.nights.models import Placing
from workshops.paper.models import Paper
from workshops.people.erase import erase, preview_erase


def test_cards_of_their_nights_go_and_other_papers_stay(
    shop: Shop, clock: Any, django_capture_on_commit_callbacks: Any
) -> None:
    night, person = make_night(shop, date=TODAY - timedelta(days=7)), make_person(shop)
    block = night.blocks.first()
    Placing.objects.create(night=night, block=block, person=person, station=make_station(shop))
    papers = [Paper(shop=shop, kind=kind, night=night) for kind in ("cards", "cut_list")]
    for paper in papers:
        paper.file.save("one.pdf", ContentFile(b"%PDF"))
    with django_capture_on_commit_callbacks(execute=True):
        preview_erase(person, by=None)
    assert default_storage.exists(papers[0].file.name)
    with django_capture_on_commit_callbacks(execute=True):
        erase(person=person, by=None)
    assert [paper.kind for paper in Paper.objects.all()] == ["cut_list"]
    assert [default_storage.exists(paper.file.name) for paper in papers] == [False, True]
