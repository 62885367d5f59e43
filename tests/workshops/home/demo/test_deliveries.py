"""What came at the demo's door: a part of an order, a gift that does not fit, something bought."""

from __future__ import annotations

from decimal import Decimal

from inventory.deliveries.expected import expected
from inventory.deliveries.models import Delivery, Received
from inventory.deliveries.queries import coated_of, letters_due
from inventory.places.models import Shop
from workshops.paper.coating import coating_cautions
from workshops.stations.models import Station
from workshops.stations.queries import sheets_of


def test_a_part_of_the_order_came_and_the_rest_is_expected(demo: Shop) -> None:
    coming = {row.item.slug: row.left for row in expected(demo) if row.order.number == 1}
    assert coming == {"dust-mask": 20, "leather-gloves": 12}


def test_the_given_post_tube_does_not_fit_and_is_on_hold(demo: Shop) -> None:
    row = Received.objects.get(wall_um__gt=3_000)
    # 1.750 - 2 x 0.134 - 1.375
    assert row.hold_entry.reason == (
        "does not fit Short post, Long post, Socket:"
        " Stem in Short post: 0.107 in of play, 0.125 in wanted"
    )
    assert {each["part"] for each in row.judged if each["says"] == "does_not_fit"} == {
        "Short post", "Long post", "Socket",
    }  # fmt: skip


def test_the_donor_is_still_to_be_thanked(demo: Shop) -> None:
    assert [each.source for each in letters_due(demo)] == ["Rotherby fencing"]


def test_the_weld_card_warns_of_the_zinc(demo: Shop) -> None:
    assert {metal.item.slug for metal in coated_of(demo)} == {"post-tube", "stem-tube"}
    welding = Station.objects.get(shop=demo, kind=Station.Kind.WELD)
    (caution,) = coating_cautions(welding, sheets_of(demo), coated_of(demo))
    named = "Post tube 1 3/4 in, Stem tube 1 3/8 in"
    assert caution["text"].startswith(f"GALVANISED STOCK IS HERE: {named}. Zinc smokes")


def test_what_was_ordered_costs_what_was_agreed(demo: Shop) -> None:
    first = Delivery.objects.filter(shop=demo).order_by("arrived_at")[0].received.get()
    assert first.entry.goods_in.value == Decimal("34.00")
