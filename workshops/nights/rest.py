"""The rest of a night from a moment on: which blocks are left, who counts, what is behind.

What is over stands as it was. The plan of the rest takes over its sparks, whose watch goes on,
the rooms in which straw was handled, and the minutes that young people have worked already.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from workshops.nights.clock import minutes, minutes_of, spell
from workshops.nights.coming import Coming
from workshops.nights.engine.problem import Before, Problem, Span, Station
from workshops.nights.loading import Loaded
from workshops.nights.models import Block, Night, Placing
from workshops.nights.permit.models import HotWorkPermit
from workshops.nights.refusals import NightRefused


@dataclass(frozen=True)
class Rest:
    """What is left of a night.

    ``first`` is the index of the first block left, ``loaded`` the night cut down to it, and
    ``missing`` those who said yes, should be here, and are not on the roll: not counted.
    """

    first: int
    loaded: Loaded
    missing: tuple[Coming, ...]
    now: int
    past: tuple[Placing, ...]
    permit: HotWorkPermit | None = None

    def problem_of(self, problem: Problem) -> Problem:
        """The rest as the engine asks it, from the problem that ``loaded`` makes."""
        spans = problem.blocks
        if spans and spans[0].start < self.now < spans[0].end:
            # The block that runs has only what is left of it.
            spans = (Span(self.now, spans[0].end), *spans[1:])
        worked = self._minutes_worked()
        people = tuple(
            replace(each, minutes_worked=worked[each.id]) if each.id in worked else each
            for each in problem.people
        )
        # The permit may ask for a longer watch than the club does, never for a shorter one.
        watch = max(problem.club.watch_minutes, self.permit.watch_minutes if self.permit else 0)
        return replace(
            problem, blocks=spans, people=people, before=self._before(),
            club=replace(problem.club, watch_minutes=watch),
            stations=tuple(self._after_last_spark(each) for each in problem.stations),
        )  # fmt: skip

    def _spans(self) -> Iterable[tuple[Placing, int, int]]:
        """What is behind, with the minutes of it that are over or will be."""
        for row in self.past:
            start, end = minutes(row.block.starts), minutes(row.block.ends)
            is_cut = row.block_id in {block.pk for block in self.loaded.blocks}
            yield row, start, min(end, self.now) if is_cut else end

    def _after_last_spark(self, station: Station) -> Station:
        """Hot work is closed once the permit says that the last spark was called."""
        if not (self.permit and self.permit.is_last_called and station.is_hot):
            return station
        told = station.closed_because or "the last spark of the night was called"
        return replace(station, closed_because=told)

    def _before(self) -> Before:
        stations = {row.pk: row for row in self.loaded.stations}
        sparks: dict[str, int] = {}
        straw = set()
        for row, start, end in self._spans():
            station = stations[row.station_id]
            if start >= end:
                continue
            if station.is_spark:
                sparks[str(station.room)] = max(end, sparks.get(str(station.room), 0))
            if station.is_straw and self.loaded.register.rules.hot_and_straw_apart:
                straw.add(str(station.room))
        told = self.permit.last_spark_at if self.permit else None
        if self.permit and self.permit.room and told:
            room, at = str(self.permit.room), minutes_of(told, self.loaded.night)
            # Called: that is when it really was. Else sparks may have flown since it was told.
            sparks[room] = at if self.permit.is_last_called else max(at, sparks.get(room, 0))
        return Before(sparks=sparks, straw_rooms=tuple(straw))

    def _minutes_worked(self) -> dict[str, int]:
        worked: dict[str, int] = {}
        for row, start, end in self._spans():
            key = str(row.person_id)
            worked[key] = worked.get(key, 0) + max(0, end - start)
        return worked


def rest_of(loaded: Loaded, at: datetime, *, keeps_current: bool = True) -> Rest:
    """What is left of a night at a moment.

    Parameters
    ----------
    keeps_current
        The block that runs stays as it is, and the plan begins with the next.

    Raises
    ------
    NightRefused
        When no block is left.
    """
    now = minutes_of(at, loaded.night)
    left = [block for block in loaded.blocks if _is_left(block, now, keeps_current=keeps_current)]
    if not left:
        raise NightRefused(
            f"Nothing is left to place at {spell(max(0, now))}: no block is still to come."
        )
    pks = {block.pk for block in left}
    blocks = {block.pk: block for block in loaded.blocks}
    for row in loaded.placings:
        row.block = blocks[row.block_id]  # read already
    past = [row for row in loaded.placings if minutes(row.block.starts) < now
            and (row.block_id not in pks or minutes(row.block.ends) > now)]  # fmt: skip
    coming, missing = _counted(loaded, now)
    cut = replace(
        loaded, blocks=left, coming=coming,
        placings=[row for row in loaded.placings if row.block_id in pks],
    )  # fmt: skip
    permit = HotWorkPermit.objects.filter(night=loaded.night).select_related("room").first()
    return Rest(loaded.blocks.index(left[0]), cut, missing, now, tuple(past), permit)


def _is_left(block: Block, now: int, *, keeps_current: bool) -> bool:
    return minutes(block.starts) >= now if keeps_current else minutes(block.ends) > now


def _counted(loaded: Loaded, now: int) -> tuple[list[Coming], tuple[Coming, ...]]:
    """Those on the roll and those who come later; and who should be here and is not."""
    if not any(each.in_at for each in loaded.coming):
        return list(loaded.coming), ()  # no roll is kept tonight: the sign-ups are all there is
    missing = tuple(
        each
        for each in loaded.coming
        if each.present and each.in_at is None and each.present[0].start < now
    )
    gone = {each.person_id for each in missing}
    return [
        replace(each, present=()) if each.person_id in gone else each for each in loaded.coming
    ], missing


def has_begun(blocks: Sequence[Block], night: Night, at: datetime) -> bool:
    """Whether the first block has begun: from then on only the rest is placed."""
    return bool(blocks) and minutes(blocks[0].starts) <= minutes_of(at, night)


def is_running(night: Night, at: datetime) -> bool:
    """Whether the doors are open and the night is not over by the clock."""
    now = minutes_of(at, night)
    return minutes(night.doors) <= now < minutes(night.lock_up)
