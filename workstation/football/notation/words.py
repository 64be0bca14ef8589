"""The table of words: what each word or phrase means, where it may stand, how it is shortened.

Everything that knows a word knows it from here: the reader, what is offered while typing, and the page
``resources/notation.md`` (:mod:`.guide`). To add a word, add a row.

A row is a :class:`Word`. ``text`` is the word as it is written back, ``also`` are the other ways to say it, ``codes``
its short forms, ``where`` says where a short form counts, ``role`` and ``value`` what it means to the grammar
(:mod:`.grammar`). Words of several parts are matched longest first.
"""

from __future__ import annotations

from ..field import Team
from ..plays import EventKind, Outcome, PlayKind, Score, Side
from ..situation import Next
from .word import ANYWHERE, IN_SET, Role, Word, row
from .words_of_fouls import CLAIMS, FOUL_WORDS
from .words_of_places import PLACES, SIDES, TEAMS
from .words_of_plays import KINDS, MANNERS, TRIES
from .words_of_results import CHOICES, LOOSE_BALL, OUTCOMES, SCORES
from .words_passed_over import FILLERS

EXACT: tuple[Word, ...] = (*(row(f"outcome {outcome.value}", Role.EXACT, ("outcome", outcome),
    about="exactly this, whatever else is said") for outcome in Outcome),
    row("outcome unknown", Role.EXACT, ("outcome", None), "not known whether"),
    *(row(f"score {score.value}", Role.EXACT, ("score", score)) for score in Score),
    *(row(f"kind {kind.value}", Role.EXACT, ("kind", kind)) for kind in PlayKind),
    *(row(f"event {event.value}{by and ' by '}{by}", Role.EXACT, ("event", (event, Side(by) if by else None)))
    for event in EventKind for by in ("", *Side)), *(row(f"possession {side.value}", Role.EXACT, ("possession", side))
    for side in Side), *(row(f"team {team.value}", Role.EXACT, ("team", team)) for team in Team),
    *(row(f"choice {choice}", Role.EXACT, ("choice", choice)) for choice in ("receive", "kick", "defer", "defend",
    "replay", "take the spot", "fair catch kick")), row("exact gain", Role.SLOT, "exact gain"),
    row("exact spot", Role.SLOT, "exact spot"), row("exact kick to", Role.SLOT, "exact kick_to"),
    row("exact kick from", Role.SLOT, "exact kick_from"), row("event at", Role.SLOT, "exact event"),
    row("exactly", Role.EXACT, ("foul", None), codes="x", where=ANYWHERE,
    about= "the foul that follows is by the side named, whatever its name"))
SET_WORDS: tuple[Word, ...] = (
    row("set", Role.SET, None, where=ANYWHERE, about="what is set by hand follows: down 2, to go 7, on own 36, "
                                                      "home ball"),
    row("down", Role.SAID_SLOT, "down", where=IN_SET),
    row("to go", Role.SAID_SLOT, "yards_to_gain", where=IN_SET),
    row("on", Role.SAID_SLOT, "ball_on", where=IN_SET),
    row("period", Role.SAID_SLOT, "period", "quarter", where=IN_SET),
    row("home score", Role.SAID_SLOT, "score_home", where=IN_SET),
    row("visitors score", Role.SAID_SLOT, "score_visitors", where=IN_SET),
    row("home timeouts", Role.SAID_SLOT, "timeouts_home", where=IN_SET),
    row("visitors timeouts", Role.SAID_SLOT, "timeouts_visitors", where=IN_SET),
    row("home ball", Role.SAID, ("offense", Team.HOME), where=IN_SET),
    row("visitors ball", Role.SAID, ("offense", Team.VISITORS), where=IN_SET),
    row("home kicks second half", Role.SAID, ("second_half_kicker", Team.HOME), where=IN_SET),
    row("visitors kick second half", Role.SAID, ("second_half_kicker", Team.VISITORS), where=IN_SET),
    row("home faces right", Role.SAID, ("home_faces_right", True), where=IN_SET),
    row("home faces left", Role.SAID, ("home_faces_right", False), where=IN_SET),
    *(row(f"next {following.value}", Role.SAID, ("next", following), where=IN_SET) for following in Next),
)
TABLE: tuple[tuple[str, tuple[Word, ...]], ...] = (("Kinds of play", KINDS), ("Tries", TRIES),
    ("How it was run, thrown or kicked", MANNERS), ("Scores", SCORES), ("What became of it", OUTCOMES),
    ("A loose ball", LOOSE_BALL), ("Who", SIDES), ("Teams", TEAMS), ("Places and distances", PLACES),
    ("Said along with it", CLAIMS), ("About a foul", FOUL_WORDS), ("Choices", CHOICES), ("Passed over", FILLERS),
    ("After set", SET_WORDS), ("Field by field", EXACT))
"""The whole table, in the order of the help page."""
