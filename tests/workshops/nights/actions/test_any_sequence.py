"""Whatever the order of moves, plans and bars, nobody is put where the gate says no."""

from __future__ import annotations

from django.db import transaction
from hypothesis import HealthCheck, given
from hypothesis import strategies as st

from tests.examples import examples
from tests.factories import make_bar, make_minor, make_sign_up, make_waiver
from tests.workshops.nights.scene import Scene
from workshops.nights import actions
from workshops.nights.engine.rules import breaches
from workshops.nights.loading import load
from workshops.nights.models import Placing
from workshops.nights.refusals import NightRefused, PlacingRefused
from workshops.people.gate import register_on

NAMES = ["Ada", "Bo", "Cy", "Dee", "Eli", "Mina"]
STATIONS = ["drill", "weld", "watch", "roll", "tag"]

block = st.integers(0, 2)
name = st.sampled_from(NAMES)
step = st.one_of(
    st.tuples(st.just("place"), name, st.sampled_from(STATIONS), block),
    st.tuples(st.just("place"), name, st.sampled_from(STATIONS), block),
    st.tuples(st.just("unplace"), name, st.none(), block),
    st.tuples(st.just("bar"), name, st.sampled_from(STATIONS), st.none()),
    st.tuples(st.just("plan"), st.none(), st.none(), st.none()),
)


def take(scene: Scene, kind: str, who: str | None, where: str | None, at: int | None) -> None:
    """One step by the public actions; a refusal is an answer."""
    try:
        if kind == "place":
            actions.place(
                night=scene.night, block=scene.blocks[at or 0], person=scene.people[who or ""],
                station=getattr(scene, where or ""),
            )  # fmt: skip
        elif kind == "unplace":
            actions.unplace(
                night=scene.night, block=scene.blocks[at or 0], person=scene.people[who or ""]
            )
        elif kind == "plan":
            actions.plan_night(night=scene.night, by=None, seconds=0.5)
    except (NightRefused, PlacingRefused):
        pass


def bar(scene: Scene, who: str, where: str) -> None:
    """A suspension; who stands there by now is taken out, as the board asks."""
    make_bar(scene.people[who], getattr(scene, where))
    for row in Placing.objects.filter(person=scene.people[who], station=getattr(scene, where)):
        actions.unplace(night=scene.night, block=row.block, person=row.person)


def stopped_by_the_gate(scene: Scene) -> list[str]:
    """Everybody placed where the gate says no, for what they do there."""
    register = register_on(scene.shop, scene.night.date)
    rows = Placing.objects.select_related("person", "station")
    return [
        f"{row} {row.role}"
        for row in rows
        if not register.answer(row.person_id, row.station_id, row.role).ok
    ]


def broken_rules(scene: Scene) -> set[str]:
    """The rules about a person that the placings break."""
    loaded = load(scene.night)
    return {breach.rule for breach in breaches(loaded.problem(), *loaded.placed())} & {
        "sign_off", "barred", "prerequisites", "minimum_age", "personal_limits", "one_place",
    }  # fmt: skip


@examples(
    12,
    derandomize=True,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(steps=st.lists(step, min_size=2, max_size=7))
def test_no_sequence_of_steps_leaves_somebody_where_the_gate_says_no(scene, steps) -> None:
    with transaction.atomic():
        mina = scene.people["Mina"] = make_minor(scene.shop, scene.people["Ada"])
        make_waiver(mina)
        make_sign_up(scene.night, mina)
        scene.night.plan = None
        for kind, who, where, at in steps:
            bar(scene, who, where) if kind == "bar" else take(scene, kind, who, where, at)
            assert stopped_by_the_gate(scene) == []
            assert broken_rules(scene) == set()
        transaction.set_rollback(True)
