"""Cards for counting, carrying, greeting and feeding."""

from __future__ import annotations

from workshops.stations.card_words.card import CardText, Step

TAG = CardText(
    steps=(
        Step("Empty the rack onto the bench", "One kind of part at a time",
             "Mixed parts are counted as one kind"),
        Step("Sort good, hold and scrap", "Ask when in doubt; hold is no shame",
             "A bad part on the rack spoils a set in the marsh"),
        Step("Count by tens", "Say it aloud, a second person listens",
             "Two ears catch the ten that was missed"),
        Step("Write or tap the count", "Once, on paper or on the tablet",
             "Two entries become twice the parts"),
        Step("Tag the rack", "Name, number, drawing revision, date",
             "An unlabelled rack is nobody's by next week"),
    ),
    bad_piece="A rack without a tag, or a tag without a revision.",
)  # fmt: skip

RUNNER = CardText(
    steps=(
        Step("Walk the line", "Which rack is empty, which is full", "A starved station idles four"),
        Step("Fetch for the emptiest first", "Before it is asked for", "Asking costs minutes"),
        Step("Carry in pairs", "Bundle close, call at corners", "A stick is as long as a room"),
        Step("Take the full racks on", "With their tag", "What lies unmoved is made twice"),
        Step("Tell the duty lead", "Anything short by the next break",
             "Then there is time to move people"),
    ),
)  # fmt: skip

GREETER = CardText(
    steps=(
        Step("Say hello and ask the name", "Spell it, add it to the roll",
             "Two people may share a name"),
        Step("Look for the waiver", "In date, or signed now", "Without it nobody passes the door"),
        Step("Ask the age of the young", "Guardian here, who, until when",
             "The plan depends on it"),
        Step("Give the name tag and the three rules", "Exits, eyes, anyone may stop the work",
             "Latecomers miss the briefing"),
        Step("Hand over to the duty lead", "By name, with what they would like to do",
             "Nobody comes twice after standing about"),
        Step("Sign out at the door", "Time and name", "The roll must be true in an alarm"),
    ),
)  # fmt: skip

KITCHEN = CardText(
    steps=(
        Step("Wash hands and wipe the table", "Before the first cup", "Sleeves carry metal dust"),
        Step("Keep food covered", "Away from the dust doors", "Dust settles on it unseen"),
        Step("Have drinks ready at the break", "A minute early", "The break is short"),
        Step("Ask about allergies", "Label what has nuts, milk or gluten", "Guests will not ask"),
        Step("Switch off and lock", "Stove, kettle, window", "You are the last to look"),
    ),
)  # fmt: skip
