"""Addresses of the slice's pages, below the shop's own address."""

from __future__ import annotations

from django.urls import URLPattern, path

from workshops.counting.views import record, sheets, tablets, tally

app_name = "counting"
BELOW = "nights/<day:on>/tally/"
urlpatterns: list[URLPattern] = [
    path(BELOW, tally.tally, name="tally"),
    path(f"{BELOW}share/", tally.share, name="share"),
    path(f"{BELOW}<int:pk>/undo/", tally.undo, name="undo"),
    path(f"{BELOW}record/", record.record, name="record"),
    path(f"{BELOW}mend/", record.mend, name="mend"),
    path(f"{BELOW}sheets/", sheets.sheets, name="sheets"),
    path(f"{BELOW}sheets/<int:number>/", sheets.sheet, name="sheet"),
    path(f"{BELOW}tablets/", tablets.tablets, name="tablets"),
    path(f"{BELOW}tablets/<int:pk>/lost/", tablets.lose, name="lose"),
]
