"""Every address of the site, and the decision that was taken about each."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.urls import URLPattern, URLResolver, get_resolver, reverse
from django.urls.converters import get_converters

from workshops.access.permissions import Permission

# Pages that ask for no permission: for everybody, or for whoever has signed in.
EVERYBODY = "everybody"
SIGNED_IN = "signed in"

# One line an address, decided by a person: a page is not reachable by accident.
DECISIONS: dict[str, str] = {
    "access:sign_in": EVERYBODY,
    "access:sign_out": EVERYBODY,
    "access:password": SIGNED_IN,
    # Told alike to whoever asks: nobody learns here which address has an account.
    "access:again": SIGNED_IN,
    "access:forgotten": EVERYBODY,
    "access:forgotten_sent": EVERYBODY,
    "access:new_password": EVERYBODY,
    "access:members": Permission.EDIT_MEMBERS,
    "access:member": Permission.EDIT_MEMBERS,
    "access:trail": Permission.SEE_TRAIL,
    "access:let_in": Permission.EDIT_MEMBERS,
    "common:worker": EVERYBODY,
    "common:gallery": SIGNED_IN,
    "common:jobs": Permission.SEE_JOBS,
    "common:job": Permission.SEE_JOBS,
    "common:job_again": Permission.SEE_JOBS,
    "mine:ask": EVERYBODY,
    "mine:open": EVERYBODY,
    "mine:calendar": EVERYBODY,
    "mine:nights": Permission.SEE_MINE,
    "mine:answer": Permission.SEE_MINE,
    "mine:sign_offs": Permission.SEE_MINE,
    "mine:hours": Permission.SEE_MINE,
    "mine:feed": Permission.SEE_MINE,
    "mine:details": Permission.SEE_MINE,
    "mine:everything": Permission.SEE_MINE,
    "mine:everything_file": Permission.SEE_MINE,
    "home:front": SIGNED_IN,
    "home:home": Permission.SEE_HOME,
    "home:tonight": Permission.SEE_HOME,
    "people:list": Permission.SEE_PEOPLE,
    "people:matrix": Permission.SEE_PEOPLE,
    "people:person": Permission.SEE_PEOPLE,
    "people:private": Permission.SEE_PRIVATE,
    "people:looks": Permission.EDIT_PEOPLE,
    "people:everything": Permission.ERASE_PEOPLE,
    "people:everything_file": Permission.ERASE_PEOPLE,
    "people:erase": Permission.ERASE_PEOPLE,
    "people:erased": Permission.ERASE_PEOPLE,
    "people:add": Permission.EDIT_PEOPLE,
    "people:edit": Permission.EDIT_PEOPLE,
    "people:guardian": Permission.EDIT_PEOPLE,
    "people:walk_in": Permission.RUN_NIGHT,
    "people:waiver": Permission.RUN_NIGHT,
    "people:account": Permission.EDIT_MEMBERS,
    "people:alike": Permission.EDIT_PEOPLE,
    "people:merge": Permission.EDIT_PEOPLE,
    "people:lists": Permission.SEE_PEOPLE,
    "people:take_out": Permission.SEE_PEOPLE,
    "people:to_fill_in": Permission.EDIT_PEOPLE,
    "people:bring": Permission.EDIT_PEOPLE,
    "people:brought": Permission.EDIT_PEOPLE,
    "people:answer_list": Permission.EDIT_PEOPLE,
    "people:write_list": Permission.EDIT_PEOPLE,
    "people:throw_list": Permission.EDIT_PEOPLE,
    "people:sign": Permission.SIGN_OFF,
    # What the club's paper register says is copied by the coordinator alone, with its evidence.
    "people:enter": Permission.EDIT_PEOPLE,
    "people:then": Permission.SEE_PEOPLE,
    "people:signed": Permission.SEE_PEOPLE,
    "people:lives": Permission.SEE_PEOPLE,
    "people:life": Permission.EDIT_RULES,
    # Whoever may stop somebody may withdraw; to confirm takes an authoriser, which the action asks.
    "people:review": Permission.BAR_PEOPLE,
    "people:bar": Permission.BAR_PEOPLE,
    "people:lift": Permission.BAR_PEOPLE,
    "training:training": Permission.SEE_PEOPLE,
    # Who stands beside whom is for whoever runs the nights to say.
    "training:timetable": Permission.RUN_NIGHT,
    "training:take": Permission.RUN_NIGHT,
    "training:drop": Permission.RUN_NIGHT,
    "training:resign": Permission.SEE_PEOPLE,
    "training:resign_paper": Permission.SEE_PEOPLE,
    "training:resign_one": Permission.SIGN_OFF,
    "training:lapses": Permission.SEE_PEOPLE,
    "training:weigh": Permission.SEE_JOBS,
    "training:warn": Permission.EDIT_PEOPLE,
    "stations:list": Permission.SEE_SHEETS,
    "stations:station": Permission.SEE_SHEETS,
    "stations:add": Permission.EDIT_SHEETS,
    "stations:edit": Permission.EDIT_SHEETS,
    "stations:add_operation": Permission.EDIT_SHEETS,
    "stations:operation": Permission.EDIT_SHEETS,
    "stations:rooms": Permission.EDIT_SHEETS,
    "stations:tools": Permission.SEE_SHEETS,
    "stations:add_tool": Permission.EDIT_SHEETS,
    "stations:tool_out": Permission.RUN_NIGHT,
    "stations:tool_back": Permission.RUN_NIGHT,
    "stations:inspections": Permission.EDIT_SHEETS,
    "stations:sheets": Permission.SEE_SHEETS,
    "stations:sheet": Permission.SEE_SHEETS,
    "stations:add_sheet": Permission.EDIT_SHEETS,
    "stations:edit_sheet": Permission.EDIT_SHEETS,
    "stations:check_sheet": Permission.EDIT_SHEETS,
    "stations:put_part": Permission.EDIT_SHEETS,
    "stations:part_off": Permission.EDIT_SHEETS,
    "stations:revise": Permission.EDIT_SHEETS,
    "stations:in_force": Permission.EDIT_SHEETS,
    "stations:supersede": Permission.EDIT_SHEETS,
    "stations:add_part": Permission.EDIT_SHEETS,
    "stations:part_dxf": Permission.SEE_SHEETS,
    "stations:template": Permission.SEE_SHEETS,
    "stations:template_dxf": Permission.SEE_SHEETS,
    "stations:part": Permission.EDIT_SHEETS,
    "stations:check_part": Permission.EDIT_SHEETS,
    "paper:list": Permission.MAKE_PAPER,
    "paper:cards": Permission.MAKE_PAPER,
    "paper:cut_list": Permission.MAKE_PAPER,
    "paper:order": Permission.MAKE_PAPER,
    "paper:outlook": Permission.MAKE_PAPER,
    "paper:tally_sheet": Permission.MAKE_PAPER,
    "paper:count_sheets": Permission.MAKE_PAPER,
    "paper:trouble_sheet": Permission.MAKE_PAPER,
    "paper:permit": Permission.MAKE_PAPER,
    "paper:file": Permission.MAKE_PAPER,
    "tonight:tonight": Permission.RUN_NIGHT,
    "tonight:cost": Permission.RUN_NIGHT,
    "tonight:cold": Permission.RUN_NIGHT,
    "tonight:phones": Permission.SEE_PRIVATE,
    "tonight:asked": Permission.RUN_NIGHT,
    "tonight:replied": Permission.RUN_NIGHT,
    "tonight:not_coming": Permission.RUN_NIGHT,
    "tonight:changed": Permission.RUN_NIGHT,
    "tonight:back": Permission.RUN_NIGHT,
    # A deputy who runs the night must be able to call it off; a new day is the coordinator's.
    "tonight:off": Permission.RUN_NIGHT,
    "tonight:tell": Permission.RUN_NIGHT,
    "tonight:rung": Permission.RUN_NIGHT,
    "tonight:ring_list": Permission.SEE_PRIVATE,
    "tonight:training": Permission.RUN_NIGHT,
    "nights:list": Permission.SEE_NIGHTS,
    "nights:add": Permission.EDIT_NIGHTS,
    "nights:repeat": Permission.EDIT_NIGHTS,
    "nights:night": Permission.SEE_NIGHTS,
    "nights:plan": Permission.RUN_NIGHT,
    "nights:move": Permission.RUN_NIGHT,
    "nights:lock": Permission.RUN_NIGHT,
    "nights:places": Permission.RUN_NIGHT,
    "nights:step_back": Permission.RUN_NIGHT,
    "nights:step_again": Permission.RUN_NIGHT,
    "nights:rest": Permission.RUN_NIGHT,
    "nights:times": Permission.RUN_NIGHT,
    "nights:compare": Permission.RUN_NIGHT,
    "nights:coming": Permission.RUN_NIGHT,
    "nights:new_group": Permission.RUN_NIGHT,
    "nights:group": Permission.RUN_NIGHT,
    "nights:cancel": Permission.EDIT_NIGHTS,
    "nights:roll": Permission.RUN_NIGHT,
    "nights:sign_in": Permission.RUN_NIGHT,
    "nights:sign_out": Permission.RUN_NIGHT,
    "nights:take_back": Permission.RUN_NIGHT,
    "nights:forgotten": Permission.RUN_NIGHT,
    "nights:door_walk_in": Permission.RUN_NIGHT,
    "nights:group_in": Permission.RUN_NIGHT,
    "nights:group_out": Permission.RUN_NIGHT,
    "nights:signed_here": Permission.RUN_NIGHT,
    "nights:hand": Permission.RUN_NIGHT,
    "nights:kept_tap": Permission.RUN_NIGHT,
    "nights:evacuation": Permission.RUN_NIGHT,
    "flow:board": Permission.RUN_NIGHT,
    "flow:swap": Permission.RUN_NIGHT,
    "nights:contacts": Permission.SEE_PRIVATE,
    **dict.fromkeys(
        (
            f"counting:{name}"
            for name in (
                "tally",
                "share",
                "undo",
                "record",
                "mend",
                "sheets",
                "sheet",
                "tablets",
                "lose",
            )
        ),
        Permission.RUN_NIGHT,
    ),
    "nights:permit": Permission.RUN_NIGHT,
    "nights:permit_points": Permission.RUN_NIGHT,
    "nights:spark": Permission.RUN_NIGHT,
    "nights:watch_turn": Permission.RUN_NIGHT,
    "nights:watch_sign": Permission.RUN_NIGHT,
    "nights:permit_ask": Permission.EDIT_RULES,
    "lockup:close": Permission.RUN_NIGHT,
    "lockup:steps": Permission.RUN_NIGHT,
    "lockup:hand_over": Permission.SEE_NIGHTS,
    "lockup:read": Permission.RUN_NIGHT,
    # Everybody tells what happened; only whoever runs the night closes a station by it.
    "trouble:night": Permission.SEE_NIGHTS,
    "trouble:reopen": Permission.RUN_NIGHT,
    "trouble:list": Permission.RUN_NIGHT,
    "trouble:one": Permission.RUN_NIGHT,
    "trouble:see_lead": Permission.BAR_PEOPLE,
    "trouble:day_after": Permission.SEE_PRIVATE,
    "trouble:phone": Permission.SEE_PRIVATE,
    "trouble:worked": Permission.SEE_PRIVATE,
    "quality:checks": Permission.RUN_NIGHT,
    "quality:check": Permission.RUN_NIGHT,
    "quality:judge": Permission.RUN_NIGHT,
    "quality:held": Permission.RUN_NIGHT,
    "quality:further": Permission.RUN_NIGHT,
    "club:rules": Permission.SEE_HOME,
    "club:rule": Permission.EDIT_RULES,
    "club:usual": Permission.EDIT_RULES,
    "stock:on_hand": Permission.SEE_STOCK,
    "stock:item": Permission.SEE_STOCK,
    "stock:came_from": Permission.SEE_STOCK,
    "stock:set_aside": Permission.POST_STOCK,
    "stock:roll_left": Permission.POST_STOCK,
    "stock:cut_overs": Permission.SEE_STOCK,
    "stock:cut_over": Permission.SEE_STOCK,
    "stock:decide_cut_over": Permission.POST_STOCK,
    "stock:straw": Permission.SEE_STOCK,
    "stock:take_reading": Permission.POST_STOCK,
    "stock:correct_reading": Permission.POST_STOCK,
    "stock:add_item": Permission.EDIT_STOCK,
    "stock:edit_item": Permission.EDIT_STOCK,
    "stock:parts_list": Permission.EDIT_STOCK,
    "stock:add_place": Permission.EDIT_STOCK,
    "stock:goods_in": Permission.POST_STOCK,
    "stock:goods_in_row": Permission.POST_STOCK,
    "stock:deliveries": Permission.SEE_STOCK,
    "stock:delivery": Permission.SEE_STOCK,
    "stock:take_back_received": Permission.POST_STOCK,
    "stock:coating_gone": Permission.POST_STOCK,
    "stock:letters": Permission.SEE_STOCK,
    "stock:letter_sent": Permission.POST_STOCK,
    "stock:count": Permission.POST_STOCK,
    "stock:count_place": Permission.POST_STOCK,
    "stock:stocktakes": Permission.POST_STOCK,
    "stock:open_stocktake": Permission.POST_STOCK,
    "stock:stocktake": Permission.POST_STOCK,
    "stock:close_stocktake": Permission.EDIT_STOCK,
    "stock:settle_late": Permission.POST_STOCK,
    "stock:count_sheet": Permission.POST_STOCK,
    "stock:first_count": Permission.POST_STOCK,
    "stock:second_count": Permission.POST_STOCK,
    "stock:third_look": Permission.POST_STOCK,
    # The book's figures are shown, and one person let count twice, by whoever keeps the stock.
    "stock:open_book": Permission.EDIT_STOCK,
    "stock:count_alone": Permission.EDIT_STOCK,
    "stock:clues": Permission.POST_STOCK,
    "stock:doubt": Permission.POST_STOCK,
    "stock:movements": Permission.SEE_STOCK,
    "stock:entry": Permission.SEE_STOCK,
    "stock:take_back": Permission.POST_STOCK,
    "stock:needs": Permission.SEE_STOCK,
    "stock:work_out": Permission.POST_STOCK,
    "stock:orders": Permission.SEE_STOCK,
    "stock:order": Permission.SEE_STOCK,
    "stock:coming": Permission.SEE_STOCK,
    "stock:start_order": Permission.POST_STOCK,
    "stock:write_order": Permission.POST_STOCK,
    "stock:send_order": Permission.POST_STOCK,
    "stock:expect_order": Permission.POST_STOCK,
    "stock:end_order": Permission.POST_STOCK,
    "stock:set_costs": Permission.SEE_STOCK,
    "stock:cut_lists": Permission.SEE_STOCK,
    "stock:new_cut_list": Permission.POST_STOCK,
    "stock:cut_list": Permission.SEE_STOCK,
    "stock:cut_tonight": Permission.POST_STOCK,
    "stock:cut_tick": Permission.POST_STOCK,
    "stock:cut_rest": Permission.POST_STOCK,
    "stock:other_stick": Permission.POST_STOCK,
    "stock:place": Permission.SEE_STOCK,
    "stock:lists": Permission.SEE_STOCK,
    "stock:export_list": Permission.SEE_STOCK,
    "stock:list_template": Permission.SEE_STOCK,
    "stock:bring_list": Permission.POST_STOCK,
    "stock:list": Permission.POST_STOCK,
    "stock:write_list": Permission.POST_STOCK,
    "stock:throw_list": Permission.POST_STOCK,
    "stock:list_places": Permission.EDIT_STOCK,
    "paper:labels": Permission.MAKE_PAPER,
    "season:winter": Permission.SEE_SEASON,
    "season:begin": Permission.EDIT_SEASON,
    "season:target": Permission.EDIT_SEASON,
    "season:ice": Permission.EDIT_SEASON,
    "season:outlook": Permission.EDIT_SEASON,
    "season:picture": Permission.SEE_SEASON,
}


@dataclass(frozen=True)
class Address:
    """One address: its name, the view behind it, and what stands in it."""

    name: str
    view: Any
    arguments: dict[str, str]  # argument: kind of converter

    @property
    def guarded_by(self) -> str | None:
        """The permission its guard asks for, if it has one."""
        return getattr(self.view, "permission", None)

    @property
    def is_of_shop(self) -> bool:
        """Whether the address names a shop."""
        return "shop" in self.arguments

    def url(self, shop: str) -> str:
        """The address in a shop, with made-up values for everything else."""
        values = {name: _made_up(kind) for name, kind in self.arguments.items()}
        return reverse(self.name, kwargs=values | ({"shop": shop} if self.is_of_shop else {}))


def every_address() -> list[Address]:
    """Every address of the site, without the administration's own."""
    found = [
        Address(name, pattern.callback, arguments)
        for name, pattern, arguments in _walk(get_resolver(), (), {})
    ]
    return [address for address in found if not address.name.startswith("admin:")]


def _walk(
    resolver: URLResolver, spaces: tuple[str, ...], arguments: dict[str, str]
) -> Iterator[tuple[str, URLPattern, dict[str, str]]]:
    for part in resolver.url_patterns:
        kinds = {name: _kind(converter) for name, converter in part.pattern.converters.items()}
        if isinstance(part, URLResolver):
            inner = (*spaces, part.namespace) if part.namespace else spaces
            yield from _walk(part, inner, arguments | kinds)
        else:
            yield ":".join([*spaces, part.name or str(part.pattern)]), part, arguments | kinds


def _kind(converter: Any) -> str:
    known = {type(one): kind for kind, one in get_converters().items()}
    return known[type(converter)]


def _made_up(kind: str) -> Any:
    values = {"int": 999_999, "slug": "nothing-here", "str": "nothing-here", "path": "nothing"}
    values["uuid"] = "00000000-0000-4000-8000-000000000000"
    # A converter of our own: a day, written as it stands in an address.
    return values.get(kind) or date(2026, 1, 14)
