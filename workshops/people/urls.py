"""Addresses of people and sign-offs, below the shop's own name."""

from __future__ import annotations

from django.urls import path

from workshops.people.views import (
    erasing,
    keeping,
    lists,
    looking_back,
    merging,
    pages,
    private,
    register,
)

app_name = "people"
urlpatterns = [
    path("people/", pages.people, name="list"),
    path("people/sign-offs/", pages.matrix, name="matrix"),
    path("people/sign-offs/then/", looking_back.then, name="then"),
    path("people/sign-offs/life/", looking_back.lives, name="lives"),
    path("people/sign-offs/life/<int:pk>/", looking_back.life, name="life"),
    path("people/add/", keeping.add, name="add"),
    path("people/walk-in/", keeping.walk_in, name="walk_in"),
    path("people/lists/", lists.lists, name="lists"),
    path("people/lists/bring/", lists.bring, name="bring"),
    path("people/lists/out/<slug:form>/", lists.take_out, name="take_out"),
    path("people/lists/to-fill-in/<slug:form>/", lists.to_fill_in, name="to_fill_in"),
    path("people/lists/<int:pk>/", lists.brought, name="brought"),
    path("people/lists/<int:pk>/answers/", lists.answer_list, name="answer_list"),
    path("people/lists/<int:pk>/write/", lists.write_list, name="write_list"),
    path("people/lists/<int:pk>/throw/", lists.throw_list, name="throw_list"),
    path("people/alike/", merging.alike, name="alike"),
    path("people/<int:pk>/merge/<int:other>/", merging.merge, name="merge"),
    path("people/<int:pk>/", pages.person, name="person"),
    path("people/<int:pk>/private/", private.private, name="private"),
    path("people/<int:pk>/looks/", private.looks, name="looks"),
    path("people/<int:pk>/everything/", erasing.everything, name="everything"),
    path("people/<int:pk>/everything/file/", erasing.everything_file, name="everything_file"),
    path("people/<int:pk>/erase/", erasing.erase, name="erase"),
    path("people/erased/", erasing.erased, name="erased"),
    path("people/<int:pk>/edit/", keeping.edit, name="edit"),
    path("people/<int:pk>/waiver/", keeping.waiver, name="waiver"),
    path("people/<int:pk>/guardian/", keeping.guardian, name="guardian"),
    path("people/<int:pk>/account/", keeping.account, name="account"),
    path("people/<int:pk>/sign-off/", register.sign, name="sign"),
    path("people/<int:pk>/paper-sign-off/", register.enter, name="enter"),
    path("people/<int:pk>/signed/", looking_back.signed, name="signed"),
    path("people/<int:pk>/sign-offs/<int:sign_off>/", register.review, name="review"),
    path("people/<int:pk>/bar/", register.bar, name="bar"),
    path("people/<int:pk>/bars/<int:bar>/lift/", register.lift, name="lift"),
]
