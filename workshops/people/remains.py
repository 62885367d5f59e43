"""What becomes of every row that points to a person, and of every text that may name one.

A relation to a person, or a text field named like somebody's name, that has no line here
fails a test: whoever adds one decides. Free words are decided already: the sweep exchanges
the person's names in every text of the shop that stands neither under a seal nor in ``TEXTS``.
"""

from __future__ import annotations

from enum import StrEnum


class Remains(StrEnum):
    """What an erase does to rows that point to a person."""

    KEPT = "kept"  # under the number, since safety or the match of a grant asks for them
    EMPTIED = "emptied"  # the row stays, what the person said in it goes
    TO_COME = "to come"  # those of nights to come go, those behind are kept
    GOES = "goes"  # the row itself goes


K, E, T, G = Remains.KEPT, Remains.EMPTIED, Remains.TO_COME, Remains.GOES

REGISTER = "who was let to which machine, and by whom, may be asked years later"
MATCH = "hours in the building are what a grant is matched with"
PAPER = "that the paper was signed, and until when it counts"
MINORS = "who answered for a child, and who may collect it"
WATCH = "who kept the fire watch"

RELATIONS: dict[str, tuple[Remains, str]] = {
    "people.SignOff.person": (K, REGISTER),
    "people.SignOff.signed_by": (K, "others work by these signatures"),
    "people.Review.reviewer": (K, REGISTER),
    "people.Bar.person": (K, "why somebody was stopped"),
    "people.Use.person": (K, "hours at the stations, from which sign-offs are kept alive"),
    "people.Guardianship.minor": (K, MINORS),
    "people.Guardianship.guardian": (K, MINORS),
    "people.Waiver.person": (K, PAPER),
    "people.Look.person": (K, "who looked at what was private, without what it was"),
    "people.Person.merged_into": (K, "entries joined with this one are erased with it"),
    "people.Erasure.person": (K, "that it was erased, when, and by whom"),
    "nights.RollLine.person": (K, MATCH),
    "nights.Placing.person": (T, "who stood at which station"),
    "nights.SignUp.person": (E, "whether they came, without guests and notes"),
    "nights.TrainingDate.learner": (T, "who learned what, beside whom"),
    "nights.TrainingDate.lead": (T, "who learned what, beside whom"),
    "nights.Group.leaders": (K, MINORS),
    "nights.Group.members": (K, "how many came as a group"),
    "nights.HotWorkPermit.watcher": (K, WATCH),
    "nights.WatchTurn.person": (K, WATCH),
    "mine.Feed.person": (G, "its address finds nothing any more"),
    "training.LapseWarning.sent_to": (K, "that a warning was given"),
    "tonight.Ask.person": (T, "that they were asked for a night"),
    "trouble.Trouble.people": (K, "who was hurt, or saw it: an insurer may ask years later"),
    "trouble.StoodThere.person": (K, "who stood where something happened"),
    "trouble.DayAfter.person": (K, "that they were asked the day after, and how they were"),
    "nights.RollLine.collected_by": (K, "who collected a child"),
    "nights.AlarmHand.person": (G, "that they asked for a hand when the alarm goes"),
    "tonight.Tap.person": (K, "what was changed in a night"),
    "tonight.Told.person": (K, "that they were told of a night called off"),
}


class Said(StrEnum):
    """What is decided about a text field named like somebody's name."""

    SWEPT = "swept"  # the person's name in it is exchanged for the number
    SIGNED = "signed"  # a signature: the name stays, since the record is one of safety or match
    EMPTIED = "emptied"  # the person's own: emptied
    THING = "thing"  # the name of a thing


W, S, M, N = Said.SWEPT, Said.SIGNED, Said.EMPTIED, Said.THING

TEXTS: dict[str, Said] = {
    "people.Person.first_name": M, "people.Person.last_name": M, "people.Person.email": M,
    "people.Person.phone": M, "people.Person.emergency_contact": M, "people.Person.note": M,
    "access.User.username": M, "access.User.first_name": M, "access.User.last_name": M,
    "access.User.email": M, "mine.Link.email": M,
    # Under the seal of the register: the database itself refuses to change them.
    "people.Review.reviewed_by": S, "people.Lifetime.decided_by": S, "people.Bar.set_by": S,
    "people.Bar.lifted_by": S,
    # Who closed a station at once, and who opened it again, is as much a signature as a bar's.
    "stations.StationStop.stopped_by": S, "stations.StationStop.reopened_by": S,
    "stations.ToolInspection.inspected_by": S,
    # A permit tells who opened it and who signed the end of the watch, as its paper does.
    "nights.HotWorkPermit.opened_by": S, "nights.HotWorkPermit.watch_signed_by": S,
    "nights.HotWorkPermit.allowed_by": S, "nights.HotWorkPermit.looked_again_by": S,
    "nights.PermitAnswer.checked_by": S, "nights.Spark.struck_by": S, "nights.Spark.told_by": S,
    "nights.WatchNote.signed_by": S, "nights.HandOver.read_by": W,
    # A rule tells who decided it; a gift tells whose it was, for the match and the letter.
    "club.ClubRule.decided_by": S, "deliveries.Delivery.source": S,
    "people.Look.seen_by": W, "people.Erasure.erased_by": W, "nights.SignUp.guest_names": W,
    "nights.Tally.counted_by": W, "nights.HandOver.written_by": W,
    # Counts that are posted lie under a seal, and the name on them with it.
    "stocktake.Look.counter": W,
    # Checks lie under a seal. What happened is told by somebody: a record of safety.
    "quality.Check.checked_by": S, "quality.Sorted.sorted_by": S,
    "trouble.Trouble.reported_by": S, "trouble.Addition.written_by": S,
    "trouble.DayAfter.asked_by": S,
    "lockup.StepTick.ticked_by": S, "lockup.RackCount.counted_by": W,
    "counting.PaperSheet.counted_by": W, "counting.Tablet.name": N,
    "club.Club.contact": S,  # refused before: the club names another contact first
    **dict.fromkeys(
        ("places.Shop.name", "places.Room.name", "places.Place.name", "materials.Item.name",
         "materials.Item.pack_name", "materials.Recipe.name", "stocktake.Stocktake.name",
         "common.Upload.name", "club.Club.name", "stations.Station.name", "stations.Tool.name",
         "stations.Part.name", "stations.Part.end_name", "stations.BuildSheet.name",
         "stations.Operation.name", "nights.Group.name", "season.Winter.name"), N,
    ),
}  # fmt: skip

# Whoever reads a record of safety or match reads the name in it: the sweep passes these by.
SIGNATURES = frozenset(name for name, said in TEXTS.items() if said is Said.SIGNED)
