"""Where work is done and what it makes: stations, tools, operations, pieces, materials, sets."""

from __future__ import annotations

from dataclasses import dataclass, field

from workshops.nights.engine.people import Level, check_id, put


@dataclass(frozen=True, slots=True)
class Station:
    """A kind of work place with a number of like benches.

    Parameters
    ----------
    room
        Where it stands: hot work and straw never share a room in one night.
    benches
        How many can be open at once, 0 to 200.
    crew_min, crew_max
        People at one open bench, learners included, 1 to 50.
    level_needed
        Sign-off asked for; none: anybody. Never ``with_a_lead``: that is what learners hold,
        and they may work wherever ``alone`` or more is asked, beside a lead.
    min_age
        Whole years; none: no limit. A person of unstated age passes up to the adult age.
    is_hot
        Makes sparks or flame: only until last spark, with a fire watch in its room.
    is_hooded
        Behind a hood: can neither supervise a minor nor be anybody's buddy.
    has_straw, is_dusty
        Straw or hay is handled (never in a room with hot work); dust in the air. Either keeps
        away people with ``no_dust``.
    is_heavy, can_sit
        Heavy lifting; work that can be done seated.
    needs_buddy
        Not hooded: two people at each open bench. Hooded: an adult who is not behind a hood
        in the same room in the same block (at a station there, or its fire watch).
    is_off_floor
        Does not count against the floor's places (kitchen, greeter at the door).
    is_fire_watch
        The duty of watching, not a bench: its sign-off, age, limits and prerequisites say who
        may watch; benches, crew and room are ignored. At most one station.
    prerequisites
        Ids of stations or trainings whose sign-off must be current too.
    learner_ratio
        Learners per lead at one bench, 0 to 20; none: the club's.
    tools
        Tool id -> how many one open bench needs.
    wanted
        People wanted here in every block although nothing is made (one runner); a wish of
        weight, not a rule.
    closed_because
        Not empty: the station is closed tonight, and this is why.
    """

    id: str
    name: str
    room: str
    benches: int = 1
    crew_min: int = 1
    crew_max: int = 1
    level_needed: Level | None = None
    min_age: int | None = None
    is_hot: bool = False
    is_hooded: bool = False
    has_straw: bool = False
    is_dusty: bool = False
    is_heavy: bool = False
    can_sit: bool = False
    needs_buddy: bool = False
    is_off_floor: bool = False
    is_fire_watch: bool = False
    prerequisites: tuple[str, ...] = ()
    learner_ratio: int | None = None
    tools: dict[str, int] = field(default_factory=dict)
    wanted: int = 0
    closed_because: str = ""

    def __post_init__(self) -> None:
        check_id(self.id)
        if not 0 <= self.benches <= 200:
            raise ValueError(f"benches must be 0 to 200, not {self.benches}")
        if not 1 <= self.crew_min <= self.crew_max <= 50:
            raise ValueError(
                "crew_min and crew_max must be 1 to 50, the first not above the second, "
                f"not {self.crew_min} and {self.crew_max}"
            )
        if self.level_needed is Level.WITH_A_LEAD:
            raise ValueError("level_needed must not be with_a_lead: ask for alone, learners follow")
        if self.learner_ratio is not None and not 0 <= self.learner_ratio <= 20:
            raise ValueError(f"learner_ratio must be 0 to 20, not {self.learner_ratio}")
        self._check_kind_of_work()
        put(self, "prerequisites", tuple(sorted(set(self.prerequisites))))
        put(self, "tools", dict(sorted(self.tools.items())))

    def _check_kind_of_work(self) -> None:
        if self.is_hot and self.has_straw:
            raise ValueError("is_hot and has_straw cannot both be true: split the station")
        if self.is_fire_watch and (self.is_hot or self.is_hooded or self.has_straw):
            raise ValueError("is_fire_watch: the watch is not hot, hooded or straw work itself")
        if self.needs_buddy and not self.is_hooded and self.crew_max < 2:
            raise ValueError("needs_buddy asks for a crew_max of 2 or more")
        if self.wanted < 0:
            raise ValueError(f"wanted must not be negative, not {self.wanted}")
        if self.min_age is not None and not 0 <= self.min_age <= 130:
            raise ValueError(f"min_age must be 0 to 130, not {self.min_age}")
        for tool, count in self.tools.items():
            if count < 1:
                raise ValueError(f"tools: {tool} must be 1 or more, not {count}")

    @property
    def crew_least(self) -> int:
        """People that one open bench needs: the crew minimum, two where buddies work."""
        return max(self.crew_min, 2) if self.needs_buddy and not self.is_hooded else self.crew_min

    @property
    def is_spare_job(self) -> bool:
        """Whether it could be given to anybody without a place: off the floor, nobody wanted."""
        plain = not (self.is_hot or self.is_hooded or self.has_straw or self.needs_buddy)
        asks_nothing = self.level_needed is None and not self.tools and self.crew_least == 1
        return self.is_off_floor and plain and asks_nothing and not self.wanted

    @property
    def takes_learners(self) -> bool:
        """Whether somebody signed off "with a lead" works here as a learner."""
        return self.level_needed is not None and self.level_needed.rank > Level.WITH_A_LEAD.rank


@dataclass(frozen=True, slots=True)
class Tool:
    """``count`` owned, ``out_of_service`` of them not usable tonight."""

    id: str
    name: str
    count: int
    out_of_service: int = 0

    def __post_init__(self) -> None:
        check_id(self.id)
        if not 0 <= self.out_of_service <= self.count:
            raise ValueError(
                f"out_of_service must be 0 to the count of {self.count}, not {self.out_of_service}"
            )


@dataclass(frozen=True, slots=True)
class Operation:
    """Work at a station that turns pieces and materials into a piece.

    Parameters
    ----------
    minutes
        Of one person at pace 1.0, for one run; above 0.
    makes, makes_count
        Id of the piece and how many one run gives.
    uses
        Piece id -> how many one run takes from the rack. What was put on the rack in a block
        can be used from the next block on.
    materials
        Material id -> how many one run consumes.
    level_needed
        None: the station's. Higher than the station's: only people of that level do it.
    """

    id: str
    station: str
    name: str
    minutes: float
    makes: str
    makes_count: int = 1
    uses: dict[str, int] = field(default_factory=dict)
    materials: dict[str, int] = field(default_factory=dict)
    level_needed: Level | None = None

    def __post_init__(self) -> None:
        check_id(self.id)
        if not 0 < self.minutes < float("inf"):
            raise ValueError(f"minutes must be more than 0, not {self.minutes}")
        counts = {"makes_count": self.makes_count, **self.uses, **self.materials}
        for name, count in counts.items():
            if count < 1:
                raise ValueError(f"{name} must be 1 or more, not {count}")
        if self.makes in self.uses:
            raise ValueError(f"uses: an operation cannot use what it makes, {self.makes!r}")
        put(self, "uses", dict(sorted(self.uses.items())))
        put(self, "materials", dict(sorted(self.materials.items())))


@dataclass(frozen=True, slots=True)
class Piece:
    """Something that stands on a rack between stations.

    Parameters
    ----------
    worth
        What one more of it on the rack at the end of the night is worth to the winter, in
        the same points as the worth of a set; 0 or more.
    on_rack
        How many stand there at the start of the first block.
    rack_limit
        How many the rack holds; none: no limit.
    """

    id: str
    name: str
    worth: float = 0.0
    on_rack: int = 0
    rack_limit: int | None = None

    def __post_init__(self) -> None:
        check_id(self.id)
        if not 0 <= self.worth < float("inf"):
            raise ValueError(f"worth must be 0 or more, not {self.worth}")
        if self.on_rack < 0:
            raise ValueError(f"on_rack must not be negative, not {self.on_rack}")
        if self.rack_limit is not None and self.rack_limit < 0:
            raise ValueError(f"rack_limit must not be negative, not {self.rack_limit}")


@dataclass(frozen=True, slots=True)
class Material:
    """Something used up and not made here: ``on_hand`` in the units that operations name."""

    id: str
    name: str
    on_hand: int

    def __post_init__(self) -> None:
        check_id(self.id)
        if self.on_hand < 0:
            raise ValueError(f"on_hand must not be negative, not {self.on_hand}")


@dataclass(frozen=True, slots=True)
class SetKind:
    """One kind of complete set: the racks together hold as many as the scarcest part allows.

    Parameters
    ----------
    worth
        Points of one complete set; more than its parts lying loose.
    parts
        Piece id -> how many one set takes.
    wanted
        How many more the winter wants; further ones count as loose parts. None: no limit.
    """

    id: str
    name: str
    worth: float
    parts: dict[str, int]
    wanted: int | None = None

    def __post_init__(self) -> None:
        check_id(self.id)
        if not self.parts or min(self.parts.values()) < 1:
            raise ValueError("parts must name at least one piece, each 1 or more")
        if self.wanted is not None and self.wanted < 0:
            raise ValueError(f"wanted must not be negative, not {self.wanted}")
        put(self, "parts", dict(sorted(self.parts.items())))
