"""Addresses of the slice's pages, below the shop's own address."""

from __future__ import annotations

from django.urls import URLPattern, path, register_converter

from workshops.nights.converters import DayConverter
from workshops.nights.views import (
    board,
    by_hand,
    calendar,
    door,
    group,
    permit,
    private,
    rest,
    roll,
)

register_converter(DayConverter, "day")

app_name = "nights"
urlpatterns: list[URLPattern] = [
    path("nights/", calendar.nights, name="list"),
    path("nights/add/", calendar.add, name="add"),
    path("nights/repeat/", calendar.repeat, name="repeat"),
    path("nights/<day:on>/", board.night, name="night"),
    path("nights/<day:on>/plan/", board.plan, name="plan"),
    path("nights/<day:on>/move/<int:block>/<int:person>/", by_hand.move, name="move"),
    path("nights/<day:on>/places/<int:block>/<int:person>/", by_hand.places, name="places"),
    path("nights/<day:on>/lock/<int:placing>/", by_hand.lock, name="lock"),
    path("nights/<day:on>/back/<int:change>/", by_hand.step_back, name="step_back"),
    path("nights/<day:on>/again/<int:change>/", by_hand.step_again, name="step_again"),
    path("nights/<day:on>/rest/", rest.rest, name="rest"),
    path("nights/<day:on>/times/", rest.times, name="times"),
    path("nights/<day:on>/compare/", rest.compare_plans, name="compare"),
    path("nights/<day:on>/coming/", calendar.coming, name="coming"),
    path("nights/<day:on>/group/", group.new_group, name="new_group"),
    path("nights/<day:on>/group/<int:pk>/", group.group, name="group"),
    path("nights/<day:on>/cancel/", calendar.cancel, name="cancel"),
    path("nights/<day:on>/roll/", roll.roll, name="roll"),
    path("nights/<day:on>/roll/in/", roll.come_in, name="sign_in"),
    path("nights/<day:on>/roll/out/", roll.go_out, name="sign_out"),
    path("nights/<day:on>/roll/back/<int:pk>/", roll.take_back, name="take_back"),
    path("nights/<day:on>/roll/forgotten/", roll.forgotten, name="forgotten"),
    path("nights/<day:on>/roll/walk-in/", door.walk_in, name="door_walk_in"),
    path("nights/<day:on>/roll/group/<int:pk>/in/", door.group_in, name="group_in"),
    path("nights/<day:on>/roll/group/<int:pk>/out/", door.group_out, name="group_out"),
    path("nights/<day:on>/roll/signed/<int:pk>/", door.signed_here, name="signed_here"),
    path("nights/<day:on>/roll/hand/<int:pk>/", door.hand, name="hand"),
    path("nights/<day:on>/roll/kept/", door.kept_tap, name="kept_tap"),
    path("nights/<day:on>/roll/evacuation/", door.evacuation, name="evacuation"),
    path("nights/<day:on>/roll/contacts/", private.contacts, name="contacts"),
    path("nights/<day:on>/permit/", permit.permit, name="permit"),
    path("nights/<day:on>/permit/points/", permit.points, name="permit_points"),
    path("nights/<day:on>/permit/spark/", permit.spark, name="spark"),
    path("nights/<day:on>/permit/turn/", permit.turn, name="watch_turn"),
    path("nights/<day:on>/permit/sign/", permit.sign, name="watch_sign"),
    path("nights/<day:on>/permit/ask/", permit.ask_more, name="permit_ask"),
]
