"""The pages of a night that changes: the rest placed again, other times, two plans."""

from __future__ import annotations

import pytest

from workshops.nights import actions
from workshops.nights.models import Night


def text(client, url: str) -> str:
    return client.get(url).content.decode()


def times(scene, **changed: str) -> dict[str, str]:
    """The form as the page has it, but for what is changed."""
    given = {"doors": "18:00", "stop": "20:30", "lock_up": "21:00"}
    for number, block in enumerate(scene.blocks):
        given[f"starts-{number}"], given[f"ends-{number}"] = (
            f"{block.starts:%H:%M}", f"{block.ends:%H:%M}",
        )  # fmt: skip
    return given | changed


def test_before_the_doors_everybody_who_signed_up_is_counted(scene, lead, page) -> None:
    shown = text(lead, page("rest"))
    assert "expected later: Ada R., Bo R., Cy R., Dee R., Eli R" in shown


def test_when_every_block_is_over_the_page_says_so(scene, lead, page) -> None:
    for block in scene.blocks[1:]:
        block.delete()
    scene.night.blocks.update(starts="17:00", ends="17:30")
    assert "Nothing is left to place at 18:00" in text(lead, page("rest"))
    answer = lead.post(page("rest"), follow=True).content.decode()
    assert "Nothing is left to place at 18:00" in answer


def test_new_times_show_a_new_last_spark(scene, lead, page) -> None:
    shown = lead.post(page("times"), times(scene, lock_up="22:00"), follow=True).content.decode()
    assert "The times are changed." in shown
    assert "last spark 21:00" in shown


@pytest.mark.parametrize(
    ("changed", "says"),
    [
        ({"ends-0": ""}, "Give both times, or neither to drop the block."),
        ({"stop": "19:00"}, "must lie between the doors and the stop"),
        ({"lock_up": "20:00"}, "lock-up is not before it"),
        ({"doors": "half six"}, "Enter a valid time."),
    ],
)
def test_times_that_cannot_be_are_said_by_the_form(scene, lead, page, changed, says: str) -> None:
    answer = lead.post(page("times"), times(scene, **changed))
    assert answer.status_code == 422
    assert says in answer.content.decode()
    assert Night.objects.get().lock_up.hour == 21


def test_with_one_plan_there_is_nothing_to_compare(scene, lead, page) -> None:
    assert "There is one plan only." in text(lead, page("compare"))


def test_the_board_is_compared_with_what_it_was_before_a_step(scene, lead, page) -> None:
    actions.place(
        night=scene.night, block=scene.blocks[0], person=scene.people["Dee"], station=scene.tag
    )
    shown = text(lead, page("compare") + "?before=step&after=board")
    assert "Dee R.</b> no place → Tag" in shown
    assert "<b>1</b> place changed." in shown


def test_a_plan_that_is_none_is_no_choice(scene, lead, page) -> None:
    assert lead.get(page("compare") + "?before=run-999&after=x").status_code == 200


def test_a_volunteer_changes_no_times(scene, guest, page) -> None:
    for name in ("rest", "times", "compare"):
        assert guest.get(page(name)).status_code == 403
