import json

import pytest

from inventory.engines.strict import ProblemRefused
from tests.workshops.season.engine.winters import bare, night, person, whole_shop
from workshops.season.engine.params import OutlookParams
from workshops.season.engine.problem import (
    IceOut,
    Item,
    Night,
    NightKind,
    Operation,
    Person,
    ReadyBy,
    Station,
    Variant,
    from_json,
    to_json,
)


def test_a_problem_survives_being_written_and_read():
    problem = whole_shop()
    assert from_json(json.loads(json.dumps(to_json(problem)))) == problem


def test_an_unknown_key_is_refused_by_its_name():
    raw = to_json(bare())
    raw["nights"][0]["moon"] = "full"
    with pytest.raises(ProblemRefused, match=r"problem\.nights\[0\]\.moon: unknown key"):
        from_json(raw)


def test_a_missing_key_is_refused_by_its_name():
    raw = to_json(bare())
    del raw["operations"][0]["minutes"]
    with pytest.raises(ProblemRefused, match=r"operations\[0\]\.minutes: is missing"):
        from_json(raw)


@pytest.mark.parametrize(
    ("kind", "given", "reason"),
    [
        (Night, {"date": "2026-2-1", "kind": NightKind.STEEL, "blocks": (60,)}, "YYYY-MM-DD"),
        (Night, {"date": "2026-02-01", "kind": NightKind.STEEL, "blocks": ()}, "blocks must"),
        (Night, {"date": "2026-02-01", "kind": NightKind.STEEL, "blocks": (0,)}, "blocks must"),
        (Station, {"id": "a", "title": "a", "benches": -1}, "benches must"),
        (
            Station,
            {"id": "a", "title": "a", "benches": 1, "crew_min": 2, "crew_max": 1},
            "crew_max must",
        ),
        (Item, {"id": "a", "title": "a", "on_hand": -1}, "on_hand must"),
        (Variant, {"id": "a", "title": "a", "parts": {}, "target": 1}, "parts must"),
        (Person, {"id": "a", "title": "a", "asked": 1, "came": 2}, "came must"),
        (Person, {"id": "a", "title": "a", "lapses": {"x": "soon"}}, "lapses must"),
        (ReadyBy, {"early": "2027-03-02", "late": "2027-03-01"}, "before early"),
        (IceOut, {"date": "2027-03-02", "weight": 0.0}, "weight must"),
        (OutlookParams, {"winters": 1}, "winters must"),
    ],
)
def test_nonsense_is_refused_at_birth_with_the_field(kind, given, reason):
    with pytest.raises(ValueError, match=reason):
        kind(**given)


def test_a_name_that_points_at_nothing_is_refused():
    with pytest.raises(ValueError, match="people Bo names 'juggle'"):
        bare(people=(person("Bo", "juggle"),))


def test_two_nights_on_one_date_are_refused():
    with pytest.raises(ValueError, match="nights has '2026-12-01' twice"):
        bare(nights=(night(), night()))


def test_two_operations_that_make_one_item_are_refused():
    second = Operation("carve", "carving", "bench", 3.0, "peg", {"rod": 1})
    with pytest.raises(ValueError, match="operations makes has 'peg' twice"):
        bare(operations=(*bare().operations, second))


def test_a_part_made_of_itself_is_refused():
    round_trip = (
        Operation("turn", "turning", "bench", 10.0, "peg", {"rod": 1}),
        Operation("unturn", "unturning", "bench", 10.0, "rod", {"peg": 1}),
    )
    with pytest.raises(ValueError, match="circle through peg, rod"):
        bare(operations=round_trip)


def test_the_target_is_the_variants_unless_one_total_is_given():
    assert bare().target == 100
    assert bare(total_target=30).target == 30
