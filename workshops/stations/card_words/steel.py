"""Cards for steel: cut, drill, bend, weld, grind, bolt, and the watch for fire."""

from __future__ import annotations

from workshops.stations.card_words.card import CardText, Step

CUT = CardText(
    steps=(
        Step("Read the cut list", "Take the pattern on top and the stick it names",
             "The patterns leave the least scrap when they are cut in their order"),
        Step("Lay the stick against the stop block", "End square, no chips under it",
             "A chip at the stop makes every piece short"),
        Step("Clamp", "Both sides of the blade, long end on the stand",
             "A loose end kicks or pinches the blade"),
        Step("Cut", "Full speed first, then steady and slow",
             "Starting in the steel breaks teeth and throws the piece"),
        Step("Deburr both ends", "Inside and outside, until a rag slides over",
             "A burr cuts hands and stops the stem in the post"),
        Step("Measure and rack", "Mark the drop with its length and put it back",
             "An unmarked drop is scrap by spring"),
    ),
    first_piece="Tape and square on the first piece from every stop setting, before the second.",
    bad_piece="Shorter than the tolerance, out of square by sight, or blue and ragged at the end.",
    check_every=10,
)  # fmt: skip

DRILL = CardText(
    steps=(
        Step("Take off gloves, tie hair and sleeves", "Before you touch the switch",
             "A spindle winds up cloth faster than you can let go"),
        Step("Put the part in the jig", "Marked end against the stop, jig number as on this card",
             "Holes are measured from that end only"),
        Step("Clamp", "Hand off the part before the drill turns",
             "A part that catches spins like a propeller"),
        Step("Drill the first wall", "A drop of oil, let the drill pull the chip",
             "Forcing it makes the hole wander"),
        Step("Go on through the second wall", "Ease off as it breaks through",
             "It grabs at breakthrough, and the two holes must line up"),
        Step("Deburr both sides", "Brush chips off, never by hand",
             "The pin must drop through, and chips go under the skin"),
    ),
    first_piece="Push the pin through both walls and lay the part on the gauge.",
    bad_piece="The pin goes in one wall and not the other, or the hole sits off the middle.",
    check_every=20,
)  # fmt: skip

BEND = CardText(
    steps=(
        Step("Check the rod", "Length on the stop, no kinks", "A short rod cannot be bent right"),
        Step("Lay it on the bender", "Bend mark at the mark on the former",
             "The bend starts where the former starts"),
        Step("Look behind you", "Nobody within a rod's length", "The far end swings at eye height"),
        Step("Pull to the stop", "One even pull, a little past the angle",
             "Steel springs back when you let go"),
        Step("Turn the rod and bend the other end", "Same face up",
             "Turned over, the ends point two ways"),
        Step("Lay it on the template", "Flat on the bench, ends level",
             "A twisted rod rocks on the bar and cannot be welded true"),
    ),
    first_piece="The first rod after each setting must lie on the template without being pressed.",
    bad_piece="It rocks on a flat bench, the arms differ, or the bend is cracked or flattened.",
    check_every=10,
)  # fmt: skip

WELD = CardText(
    steps=(
        Step("See that the watch and the permit are in place", "Name of the watch on the permit",
             "No watch, no arc"),
        Step("Look at the steel", "Bare and dry, no zinc and no paint near the joint",
             "Coating smokes, makes ill and spoils the weld"),
        Step("Set the parts in the jig", "Stem square under the bar, rods at the stops",
             "Pulled crooked, the head never sits level"),
        Step("Tack every joint", "Two tacks across from each other, then check square",
             "Heat pulls the part toward the first weld"),
        Step("Weld as the drawing marks it", "Call out, hood down, aim at the corner of both parts",
             "A bead on one part only looks good and holds nothing"),
        Step("Let it cool where it is marked hot", "Chalk HOT, out of the aisle",
             "Steel stops glowing long before it stops burning"),
        Step("Stop at the last spark", "At the time on this card, not one more",
             "The watch must end before lock-up"),
    ),
    first_piece="Break a sample of each joint in the vise: it must tear metal, not peel off.",
    bad_piece="Bead lies on top and peels, a gap at the root, holes like a sponge, or a bent bar.",
    check_every=15,
)  # fmt: skip

SPOT_WELD = CardText(
    steps=(
        Step("Check the tips", "Clean, round and meeting", "Flat tips spread the heat"),
        Step("Fit the parts", "Bare metal, touching without force", "A gap burns through"),
        Step("Hold outside the guard", "Both hands away from the tips", "The tips close hard"),
        Step("Weld", "Keep pressure until the cycle ends", "Let go early and it spits"),
        Step("Twist a sample", "It tears a button out of one side", "A stuck joint looks the same"),
    ),
    first_piece="Twist apart the first joint after each setting: a button of metal must tear out.",
    bad_piece="It snaps apart clean, or the wire is burnt thin.",
    check_every=20,
)  # fmt: skip

GRIND = CardText(
    steps=(
        Step("See that the watch and the permit are in place", "Grinding is hot work",
             "Its sparks travel far and stay hot"),
        Step("Look at the wheel and the guard", "No chip, no crack, guard between it and you",
             "A broken wheel comes off in pieces"),
        Step("Clamp the part", "Sparks away from people and straw", "You cannot see behind it"),
        Step("Grind", "Light, moving, no side load", "Pressing heats the joint and bursts a wheel"),
        Step("Feel the edge with a rag", "Not with a finger", "A fine burr cuts deepest"),
    ),
    first_piece="Show the first one to the lead: burr gone, weld not ground away.",
    bad_piece="The weld is ground thin, or the edge still catches a rag.",
)  # fmt: skip

BOLT = CardText(
    steps=(
        Step("Lay out the kit", "Bolts, washers and lock nuts counted for one head",
             "A part left over is a part left out"),
        Step("Put the stem under the bar", "Holes in line, face marks up",
             "Forced holes strip the thread"),
        Step("Start every bolt by hand", "Washer under each nut",
             "A crossed thread feels tight and is loose"),
        Step("Lay in the cradle rods", "At the marks of the drawing, arms up",
             "The cylinder rolls off uneven rods"),
        Step("Tighten crosswise", "Square on the stem before the last turn",
             "The first bolt tightened pulls the bar over"),
        Step("Mark every nut", "A stroke of paint across nut and bolt",
             "One look in the marsh shows which has turned"),
    ),
    first_piece="Hang on the bar with both hands: nothing may shift, and the bar stays square.",
    bad_piece="A nut without its stroke of paint, a rod that turns by hand, a bar off square.",
    check_every=10,
)  # fmt: skip

FIRE_WATCH = CardText(
    steps=(
        Step("Take the post", "Sign the permit, no other job tonight",
             "Who helps out elsewhere sees nothing"),
        Step("Walk the room", "Swept, straw out, holes in wall and floor covered",
             "Sparks roll farther than anyone believes"),
        Step("Hold the extinguisher", "Pin in, gauge in the green, path to the door open",
             "A fire is small only at the start"),
        Step("Watch where sparks land", "Low, behind, and the other side of the wall",
             "Smoulder starts where the welder cannot look"),
        Step("Stay after the last spark", "Start the clock, walk the room every few minutes",
             "Smoulder shows long after the arc is out"),
        Step("Raise the alarm first", "Then fight only what the extinguisher can beat",
             "People first, then the shop"),
        Step("Sign the end of the watch", "Feel wall and floor with the back of your hand",
             "Lock-up waits for this signature"),
    ),
)  # fmt: skip
