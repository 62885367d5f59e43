"""The winter's band as a picture: pure SVG text, no Django, nothing loaded from elsewhere.

Every thing is told three ways, in words, by its shape and by its colour, so that it holds on a
black-and-white printer. The same picture goes on the page and into the PDF.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise

from workshops.season import strokes
from workshops.season.engine.plan import Band, DateChance, Outlook
from workshops.season.engine.problem import NightKind
from workshops.season.engine.sentences import percent
from workshops.season.scales import Frame, day_and_month, frame_of, steps
from workshops.season.strokes import INK, REED, WATER

NIGHT_MARKS = {NightKind.STEEL: "square", NightKind.STRAW: "round", NightKind.MIXED: "half"}
NIGHT_WORDS = {
    NightKind.STEEL: "steel night",
    NightKind.STRAW: "straw night",
    NightKind.MIXED: "mixed night",
}


@dataclass(frozen=True, slots=True)
class BandOnNight:
    """One night to come: where the finished sets lie at its end."""

    day: date
    kind: NightKind
    band: Band


@dataclass(frozen=True, slots=True)
class WinterPicture:
    """What the picture shows. Days are dates; counts are sets of the whole winter.

    ``ready_by`` and ``ice`` are first and last day, or None; ``ready_chances`` and
    ``ice_chance`` are written beside them; ``told`` is the text alternative.
    """

    finished_now: int
    nights: tuple[BandOnNight, ...]
    made: tuple[tuple[date, int], ...]
    target: int
    ready_by: tuple[date, date] | None
    ready_chances: tuple[float, ...]
    ice: tuple[date, date] | None
    ice_chance: float | None
    told: tuple[str, ...]

    @property
    def now(self) -> tuple[date, int] | None:
        """Where the band starts: the last count, or a little before the first night."""
        if self.made:
            return self.made[-1][0], self.finished_now
        if not self.nights:
            return None
        return self.nights[0].day - timedelta(days=3), self.finished_now


def picture_of(outlook: Outlook) -> WinterPicture:
    """The picture's content, taken from an outlook."""
    ready, ice = outlook.ready_by, [date.fromisoformat(entry.date) for entry in outlook.ice]
    return WinterPicture(
        finished_now=outlook.finished_now,
        nights=tuple(
            BandOnNight(date.fromisoformat(night.date), night.kind, night.finished)
            for night in outlook.nights
        ),
        made=tuple((date.fromisoformat(made.date), made.finished) for made in outlook.made),
        target=outlook.target,
        ready_by=None
        if ready is None
        else (date.fromisoformat(ready.early), date.fromisoformat(ready.late)),
        ready_chances=_chances(outlook.by_date),
        ice=(min(ice), max(ice)) if ice else None,
        ice_chance=outlook.before_ice.share if outlook.before_ice else None,
        told=tuple(outlook.explain()),
    )


def draw(
    picture: WinterPicture, *, width: int = 960, height: int = 480, name: str = "winter"
) -> str:
    """The picture as one ``<svg>`` element.

    Parameters
    ----------
    width, height
        Units of the view box; the page decides how large it is shown. Below 600 wide the
        picture is laid out for a phone: shorter words, fewer dates, the key in more rows.
    name
        Starts the ids of the text alternative: its own for each picture of a page.
    """
    frame = frame_of(
        days=_days(picture),
        most=_most(picture),
        width=width,
        height=height,
        key=_key(picture),
        windows=sum(window is not None for window in (picture.ready_by, picture.ice)),
    )
    layers = [
        *_windows(picture, frame),
        *_grid(frame),
        *_band(picture, frame),
        *_target(picture, frame),
        *_made(picture, frame),
        *_night_marks(picture, frame),
        *_ends(picture, frame),
        *strokes.key_rows(frame.key_rows, top=frame.key_top, left=frame.left),
    ]
    return strokes.svg(
        layers,
        width=width,
        height=height,
        title=f"Finished sets through the winter, target {picture.target}",
        told=" ".join(picture.told),
        name=name,
    )


def _chances(by_date: tuple[DateChance, ...]) -> tuple[float, ...]:
    return tuple(entry.chance.share for entry in by_date)


def _days(picture: WinterPicture) -> list[date]:
    days = [night.day for night in picture.nights] + [day for day, _ in picture.made]
    days += [picture.now[0]] if picture.now else []
    for window in (picture.ready_by, picture.ice):
        days += list(window or ())
    return days or [date(2000, 1, 1)]


def _most(picture: WinterPicture) -> int:
    counts = [night.band.high_95 for night in picture.nights]
    return max([picture.target, picture.finished_now, *counts, 10])


def _key(picture: WinterPicture) -> list[tuple[str, str]]:
    """What the key explains: only marks that are in the picture."""
    entries = []
    if picture.nights:
        entries += [("band-50", "5 winters in 10"), ("band-80", "8 in 10")]
        entries += [("band-95", "19 in 20"), ("middle", "middle winter")]
    if picture.made:
        entries.append(("made", "made so far"))
    kinds = {night.kind for night in picture.nights}
    return entries + [(NIGHT_MARKS[k], NIGHT_WORDS[k]) for k in NightKind if k in kinds]


def _windows(picture: WinterPicture, frame: Frame) -> list[str]:
    """The ready-by and the ice as upright strips; the later one has its words higher up."""
    found = []
    if picture.ready_by:
        chance = " to ".join(percent(share) for share in picture.ready_chances)
        words = f"wanted {_span(*picture.ready_by)}" + (f": {chance}" if chance else "")
        found.append((*picture.ready_by, "ready", words))
    if picture.ice:
        words = "ice goes" if frame.is_narrow else "the ice may go"
        words += f" {_span(*picture.ice)}"
        if picture.ice_chance is not None:
            words += (
                f": {'' if frame.is_narrow else 'ready before it '}{percent(picture.ice_chance)}"
            )
        found.append((*picture.ice, "ice", words))
    found.sort()
    rows = [
        strokes.window(frame, first, last, pattern=pattern, row=row, words=words)
        for row, (first, last, pattern, words) in enumerate(found)
    ]
    return [part for drawn in reversed(rows) for part in drawn]


def _span(first: date, last: date) -> str:
    if first == last:
        return f"by {day_and_month(first)}"
    return f"{day_and_month(first)} – {day_and_month(last)}"


def _grid(frame: Frame) -> list[str]:
    drawn = []
    for count in steps(frame.most, wanted=5):
        y = frame.y(count)
        drawn.append(strokes.line(frame.left, y, frame.right, y, colour=INK, width=0.5, faint=0.25))
        drawn.append(strokes.text(frame.left - 8, y + 5, str(count), anchor="end"))
    drawn.append(strokes.text(8, frame.top - 12, "finished sets", bold=True))
    for day in frame.labelled_days:
        x = frame.x(day)
        drawn.append(strokes.line(x, frame.bottom, x, frame.bottom + 6, colour=INK))
        drawn.append(strokes.text(x, frame.bottom + 42, day_and_month(day), anchor="middle"))
    return drawn


def _band(picture: WinterPicture, frame: Frame) -> list[str]:
    if not picture.nights or picture.now is None:
        x, y = (frame.left + frame.right) / 2, (frame.top + frame.bottom) / 2
        return [strokes.text(x, y, "No nights are left this winter.", anchor="middle")]
    day, count = picture.now
    start = (frame.x(day), frame.y(count))
    drawn = []
    for share in (95, 80, 50):
        upper = [start] + [_at(frame, n, f"high_{share}") for n in picture.nights]
        lower = [start] + [_at(frame, n, f"low_{share}") for n in picture.nights]
        drawn.append(strokes.area([*upper, *lower[::-1]], mark=f"band-{share}"))
    middle = [start] + [_at(frame, n, "median") for n in picture.nights]
    return [*drawn, strokes.path(middle, colour=INK, width=3)]


def _at(frame: Frame, night: BandOnNight, edge: str) -> tuple[float, float]:
    return frame.x(night.day), frame.y(getattr(night.band, edge))


def _target(picture: WinterPicture, frame: Frame) -> list[str]:
    y = frame.y(picture.target)
    return [
        strokes.line(frame.left, y, frame.right, y, colour=REED, width=3, dashes="12 6"),
        strokes.text(frame.left + 6, y - 8, f"target {picture.target}", bold=True, halo=True),
    ]


def _made(picture: WinterPicture, frame: Frame) -> list[str]:
    points = [(frame.x(day), frame.y(count)) for day, count in picture.made]
    drawn = [strokes.path(points, colour=INK, width=2)] if len(points) > 1 else []
    return drawn + [strokes.mark("made", x, y) for x, y in points]


def _night_marks(picture: WinterPicture, frame: Frame) -> list[str]:
    """Each night to come as a small mark under the axis, its shape saying its kind."""
    y, xs = frame.bottom + 16, [frame.x(night.day) for night in picture.nights]
    closest = min((b - a for a, b in pairwise(xs)), default=12.0)
    scale = min(1.0, max(closest / 12.0, 0.35))
    return [
        strokes.mark(NIGHT_MARKS[night.kind], x, y, scale=scale)
        for night, x in zip(picture.nights, xs, strict=True)
    ]


def _ends(picture: WinterPicture, frame: Frame) -> list[str]:
    """The last night's figures in the right margin, moved apart where they would touch."""
    if not picture.nights:
        return []
    last = picture.nights[-1]
    told = [
        (last.band.high_80, f"{last.band.high_80} good", False),
        (last.band.median, f"{last.band.median} middle", True),
        (last.band.low_80, f"{last.band.low_80} poor", False),
    ]
    rows = frame.apart([frame.y(count) for count, *_ in told], gap=20)
    x, edge = frame.x(last.day), frame.right
    drawn = []
    for (count, words, bold), y in zip(told, rows, strict=True):
        drawn.append(strokes.line(x, frame.y(count), edge + 6, y, colour=WATER, width=1))
        drawn.append(strokes.text(edge + 10, y + 5, words, bold=bold))
    return drawn
