"""Every rule the site knows, in the order in which the rules page shows them.

Laws, fire codes, ages and ratios differ by place. What stands here is what is usual, with
where that comes from; the club decides, and ``queries.rules_of`` gives what holds.
"""

from __future__ import annotations

from workshops.club.rule import Kind, Rule

PEOPLE, MINORS, YOUNG, FIRE, SHEETS, HAY, GIFTS, WORK = (
    "Sign-offs and placing", "Minors", "Young people: policies a club may adopt",
    "Hot work and fire watch", "Build sheets", "Straw and hay", "Gifts",
    "Checks of the work, and trouble",
)  # fmt: skip
_CUSTOM = "common practice, no source; the club decides"
_LOCAL = "local law and the club's insurer"

RULES: tuple[Rule, ...] = (
    Rule(
        "sign_off_months", PEOPLE, "A sign-off counts for", Kind.INT, 12,
        "Hands forget over a summer; a club that meets in winter signs everyone anew each fall.",
        "usual in shared workshops", unit="months", least=1, most=60,
    ),
    Rule(
        "sign_off_ends", PEOPLE, "Every sign-off ends at the latest on", Kind.DAY, None,
        "One day for all, before the first night, so that nobody has to keep a calendar.",
        _CUSTOM, can_be_off=True,
    ),
    Rule(
        "resign_days", PEOPLE, "Signed anew before that day, it runs to the next year's", Kind.INT,
        60, "A re-sign evening in early fall should not lapse before the first night.",
        _CUSTOM, unit="days before", least=0, most=180,
    ),
    Rule(
        "lapse_unused_months", PEOPLE, "A sign-off lapses without use after", Kind.INT, None,
        "Whoever has not done it for months is shown again before doing it alone.",
        "welding codes end a welder's qualification after six months without the process",
        unit="months", least=1, most=60, can_be_off=True,
    ),
    Rule(
        "points_needed", PEOPLE, "What an authoriser must tick to sign", Kind.CHOICE, "words",
        "The station's own list makes two authorisers ask for the same.",
        _CUSTOM,
        choices=(("words", "nothing: a few words of what was shown are enough"),
                 ("some", "at least one point of the station's list"),
                 ("all", "every point of the list, to let somebody work alone or go further")),
    ),
    Rule(
        "lapse_warning_days", PEOPLE, "Warn before a sign-off lapses", Kind.INT, 21,
        "Time enough to meet an authoriser on a shop night before it lapses.",
        _CUSTOM, unit="days", least=0, most=180,
    ),
    Rule(
        "last_warning_days", PEOPLE, "Warn once more before it lapses", Kind.INT, 7,
        "One shop night is left by then, for most clubs.",
        _CUSTOM, unit="days", least=0, most=60,
    ),
    Rule(
        "ready_nights", PEOPLE, "Nights with a lead before somebody may be signed to work alone",
        Kind.INT, 3, "Counted at each station. One good night is luck, three are a habit.",
        _CUSTOM, unit="nights", least=1, most=50, can_be_off=True,
    ),
    Rule(
        "ready_hours", PEOPLE, "Hours with a lead before somebody may be signed to work alone",
        Kind.INT, 4, "Counted at each station, from placings and tallies; the authoriser decides.",
        _CUSTOM, unit="hours", least=1, most=500, can_be_off=True,
    ),
    Rule(
        "signers_named_by", PEOPLE, "Who makes somebody an authoriser", Kind.CHOICE, "authorisers",
        "Few people should be able to sign others; some clubs leave that to a meeting.",
        _CUSTOM,
        choices=(("authorisers", "an authoriser of the station"),
                 ("club", "the club: a coordinator enters it from the club's own record")),
    ),
    Rule(
        "waiver_needed", PEOPLE, "Nobody works without a valid waiver", Kind.BOOL, True,
        "The insurer asks for it, and it is how a newcomer hears what the risks are.",
        "the club's insurer",
    ),
    Rule(
        "waiver_months", PEOPLE, "A waiver counts for", Kind.INT, 12,
        "Signed anew each winter, so that the wording people signed is the wording in use.",
        "the club's insurer", unit="months", least=1, most=60,
    ),
    Rule(
        "learners_per_lead", PEOPLE, "Learners beside one lead", Kind.INT, 2,
        "A lead who watches more hands than two watches none of them.",
        _CUSTOM, unit="learners", least=0, most=20,
    ),
    Rule(
        "learner_pace_percent", PEOPLE, "A learner's pace in plans", Kind.INT, 50,
        "Plans that count learners as old hands promise what the night cannot make.",
        "the club's own tallies, once there are some", unit="in a hundred", least=0, most=100,
    ),
    Rule(
        "floor_holds", PEOPLE, "The floor holds at most", Kind.INT, None,
        "The number the fire marshal posted, or what leaves room to carry a stick of tube.",
        "the posted occupancy of the building", unit="people", least=1, most=1000, can_be_off=True,
    ),
    Rule(
        "adult_age", MINORS, "Somebody is an adult from", Kind.INT, 18,
        "The other rules for minors and the stations for adults only go by it.",
        _LOCAL, unit="years", least=14, most=25,
    ),
    Rule(
        "guardian_must_be_present", MINORS, "A minor's guardian is in the building", Kind.BOOL,
        True,
        "Somebody who may decide for the child is at hand if it is hurt.",
        "the club's policy for young people; off where a signed consent is enough",
    ),
    Rule(
        "consent_needed", MINORS, "A minor needs a guardian's written consent", Kind.BOOL, False,
        "A consent on paper says who answers for the child and who may collect it.",
        _LOCAL,
    ),
    Rule(
        "minors_per_adult", MINORS, "Minors for each free adult", Kind.INT, 5,
        "Adults behind a hood or on fire watch supervise nobody and are not counted.",
        "policies run from one minor to five for each adult", unit="minors", least=1, most=50,
        can_be_off=True,
    ),
    Rule(
        "minor_latest", MINORS, "Minors stop work by", Kind.TIME, None,
        "Hour limits for young workers bind jobs, not volunteers, and many clubs copy them.",
        _LOCAL, can_be_off=True,
    ),
    Rule(
        "minor_max_minutes", MINORS, "Minors work at most", Kind.INT, None,
        "The same, for the length of an evening.",
        _LOCAL, unit="minutes a night", least=15, most=720, can_be_off=True,
    ),
    Rule(
        "young_hours", YOUNG, "Work hours for those under 16", Kind.BOOL, False,
        "Copies the hours a federal rule sets for jobs: 7:00 to 19:00, to 21:00 from June 1 to "
        "Labor Day; 3 hours on a school day, 8 on others; 18 in a school week, 40 in others. "
        "That rule binds employment and not volunteers: here it is a policy, if you adopt it.",
        "29 CFR 570.35(a), written for employment; the club adopts it or does not",
    ),
    Rule(
        "young_machines", YOUNG, "Machines kept from those under 18", Kind.BOOL, False,
        "Copies what federal orders keep from young workers: bending, rolling and shearing "
        "machines, saws; and under 16 every power-driven tool. Those orders bind employment "
        "and not volunteers: here it is a policy, if you adopt it.",
        "29 CFR 570 subpart E, written for employment; the club adopts it or does not",
    ),
    Rule(
        # The longer of the two codes is usual: a club that knows its code can shorten it to that.
        "watch_minutes", FIRE, "The fire watch lasts", Kind.INT, 60,
        "Most fires after hot work are found in the first hour. Last spark is lock-up minus this.",
        "NFPA 51B-2019: one hour; 29 CFR 1910.252(a)(2)(iii): at least half an hour",
        unit="minutes", least=30, most=240,
    ),
    Rule(
        "watch_after_minutes", FIRE, "Second look after the watch", Kind.INT, 0,
        "Somebody comes back, or an alarm is listened to, when the permit asks for it.",
        "NFPA 51B-2019: up to three hours more when the permit orders it",
        unit="minutes", least=0, most=180,
    ),
    Rule(
        "hot_and_straw_apart", FIRE, "Hot work and straw never share a room on one night",
        Kind.BOOL, True, "Straw dust lies where sparks fly, and smoulders unseen.",
        "a room with loose straw is no place designated for hot work",
    ),
    Rule(
        # Off until decided: sizes are for whoever drew the sheet to say, never for a program.
        "ring_inside_max_um", SHEETS, "The first turn is at most, across inside", Kind.LENGTH, None,
        "Small enough that geese stay out; take it from whoever drew your build sheet.",
        "the wildlife agency the club works with", can_be_off=True,
    ),
    Rule(
        "wire_min_um", SHEETS, "Wire is at least this thick", Kind.LENGTH, None,
        "Light wire folds under a heavy bird. Measure it: one gauge number means several sizes.",
        "the wildlife agency the club works with", can_be_off=True,
    ),
    Rule(
        "mesh_max_um", SHEETS, "Mesh is at most this wide", Kind.LENGTH, None,
        "Straw works out of a mesh that is too open.", _CUSTOM, can_be_off=True,
    ),
    Rule(
        "overlap_min_um", SHEETS, "Wire left over the closed outer turn", Kind.LENGTH, None,
        "Too little to ring and the roll springs open.", _CUSTOM, can_be_off=True,
    ),
    Rule(
        "hole_edge_min_um", SHEETS, "Metal between a hole and the end", Kind.LENGTH, None,
        "A hole close to the end tears out.", _CUSTOM, can_be_off=True,
    ),
    Rule(
        "stem_engaged_min_um", SHEETS, "The stem reaches into the post", Kind.LENGTH, None,
        "A head that stands too far out works loose in wind and ice.", _CUSTOM, can_be_off=True,
    ),
    Rule(
        "stem_clearance_min_um", SHEETS, "Play between stem and post", Kind.LENGTH, None,
        "Rust, paint and a burr take some of it.", _CUSTOM, can_be_off=True,
    ),
    Rule(
        "wall_tolerance_percent", SHEETS, "A tube's wall may differ by", Kind.INT, 10,
        "Tube is sold by a listed wall and made within a tolerance of it.",
        "tube standards allow about ten in a hundred either way",
        unit="in a hundred", least=0, most=49,
    ),
    Rule(
        "bale_moisture_max_percent", HAY, "Bales are taken in up to a moisture of", Kind.INT, 20,
        "Damp bales heat and mould.",
        "extension services: 18 to 22 in a hundred for small bales",
        unit="in a hundred", least=5, most=40,
    ),
    Rule(
        "hay_look_days", HAY, "Every lot of straw and hay is probed once in", Kind.INT, 7,
        "A stack that is never probed is never found warm.",
        _CUSTOM, unit="days", least=1, most=60,
    ),
    Rule(
        "hay_check_f", HAY, "Bales are watched closely from", Kind.INT, 150,
        "A stack that warm may go on heating.",
        "extension services' hay-fire notices (Penn State Extension: danger from 150)",
        unit="°F", least=90, most=200,
    ),
    Rule(
        "hay_check_hours", HAY, "A stack that is watched closely is probed every", Kind.INT, 12,
        "It warms over days, and nobody is there at night.",
        "Penn State Extension: twice a day from 150 °F; other notices say daily",
        unit="hours", least=1, most=48,
    ),
    Rule(
        "hay_watch_f", HAY, "Bales are in danger from", Kind.INT, 160,
        "From here on it may be hours and not days.",
        "extension services' hay-fire notices", unit="°F", least=95, most=210,
    ),
    Rule(
        "hay_watch_hours", HAY, "A stack in danger is probed every", Kind.INT, 2,
        "The sources differ here: take the interval that your fire service names.",
        "Penn State Extension: every 2 hours at 160 °F; other notices say 4 hours",
        unit="hours", least=1, most=24,
    ),
    Rule(
        "hay_alarm_f", HAY, "The fire service is called from", Kind.INT, 175,
        "Do not open a stack that hot; air sets it alight.",
        "extension services' hay-fire notices", unit="°F", least=100, most=212,
    ),
    Rule(
        "temperature_unit", HAY, "Probe thermometers here read", Kind.CHOICE, "F",
        "So that nobody turns degrees into other degrees beside a warm stack.",
        _CUSTOM, choices=(("F", "degrees Fahrenheit"), ("C", "degrees Celsius")),
    ),
    Rule(
        "fibre_limit_cubic_feet", HAY, "Straw and hay are pointed out above", Kind.INT, 100,
        "Above such a volume some fire codes ask for a permit, loose or in bales.",
        "some local fire codes, 100 cubic feet; others exempt farm storage: ask the fire service",
        unit="cubic feet", least=1, most=100_000, can_be_off=True,
    ),
    Rule(
        "letter_days", GIFTS, "A donor is thanked by letter within", Kind.INT, 14,
        "Who is thanked soon gives again, and some need the letter for their books.",
        _CUSTOM, unit="days", least=1, most=120, can_be_off=True,
    ),
    Rule(
        "check_every", WORK, "A piece is checked after every", Kind.INT, 25,
        "What is made between two checks is what goes on hold when the second one fails.",
        "common practice, no source; a station's card may say another number",
        unit="pieces", least=1, most=1000, can_be_off=True,
    ),
    Rule(
        "break_test_every", WORK, "A welded piece is broken on purpose after every", Kind.INT, 40,
        "A weld can look well and not hold: only breaking one tells.",
        _CUSTOM, unit="pieces", least=1, most=1000, can_be_off=True,
    ),
    Rule(
        "spot_inspection_months", WORK, "A spot welder is inspected every", Kind.INT, 12,
        "Clamps, cables and guards wear unseen. A tool's own page may say another number.",
        "Michigan R 408.11281(1): yearly, with records kept; federal 29 CFR 1910.255(e) sets no "
        "interval", unit="months", least=1, most=60, can_be_off=True,
    ),
    Rule(
        "overdue_stops", WORK, "A tool whose inspection is overdue is not planned for",
        Kind.BOOL, False,
        "Without it the pages and the card say so, and the duty lead decides.",
        _CUSTOM,
    ),
    Rule(
        "see_lead_after_injury", WORK, "After an injury, sign-offs there become “with a lead”",
        Kind.BOOL, False,
        "Offered with one press and never done by itself; whoever may lead there still leads.",
        _CUSTOM,
    ),
)  # fmt: skip

RULE: dict[str, Rule] = {rule.key: rule for rule in RULES}
