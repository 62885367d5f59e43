"""Running saw marks: each is what lies before it, piece by piece and cut by cut, exactly."""

from __future__ import annotations

from hypothesis import given

from inventory.cutting.engine.problem import CutProblem
from inventory.cutting.engine.solve import solve
from inventory.cutting.queries import Strip, strips_of
from inventory.cutting.translate import row_of
from inventory.engines.stop import Seconds
from inventory.materials.models import Item
from inventory.places.models import Shop
from tests.examples import examples
from tests.inventory.cutting.engine.some import problems


def strips(problem: CutProblem) -> tuple[Strip, ...]:
    """What is drawn of a plan, as it is kept."""
    item = Item(name="Tube", shop=Shop(name="Teal Point"), kind=Item.Kind.METAL)
    return strips_of(row_of(solve(problem, Seconds(1)), item, 7))


@given(problems())
@examples(40)
def test_every_mark_is_the_sum_of_pieces_and_kerfs_before_it(problem):
    starts = {stick.label: problem.start(stick) for stick in problem.sticks}
    for strip in strips(problem):
        at, marks = starts[strip.stick], []
        if at:
            marks.append(at)
        for number, piece in enumerate(strip.pieces):
            at += piece.length_um + (problem.kerf if number else 0)
            marks.append(at)
        # a piece that ends the stick is not sawn off
        assert list(strip.marks) == [mark for mark in marks if mark < strip.length_um]


@given(problems())
@examples(40)
def test_pieces_lie_between_the_marks_and_the_rest_begins_behind_the_last(problem):
    lengths = {piece.label: piece.length for piece in problem.pieces}
    for strip in strips(problem):
        assert all(piece.length_um == lengths[piece.label] for piece in strip.pieces)
        ends = [piece.start_um + piece.length_um for piece in strip.pieces]
        assert ends[-1] + problem.kerf + strip.left_over_um >= strip.length_um
        assert [mark for mark in strip.marks if mark in ends] == [
            end for end in ends if end < strip.length_um
        ]
        if strip.left_over_um:
            assert strip.length_um - strip.left_over_um == ends[-1] + problem.kerf


@given(problems())
@examples(30)
def test_the_stop_is_set_once_for_each_length_of_a_stick(problem):
    for strip in strips(problem):
        assert len(strip.stops) == len({piece.length_um for piece in strip.pieces})
