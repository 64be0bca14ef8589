"""Writes a play as the line that is read as that very play: in full words, spelt out, or in as few keys as can be."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import fields, replace

from ..field import Team, spoken_spot, spoken_yards
from ..plays import BallEvent, EventKind, Foul, FoulDecision, Outcome, Play, PlayKind, Score, Side, SituationOverride
from ..rulebook import Rulebook
from ..situation import Next, Situation
from ..speaking import spoken_clock
from .draft import DUE_KIND, FREE_KICKS, GAINING, KICKS, TRIES
from .lexicon import lexicon, parts_of
from .readings import understood
from .word import Role

_Say = Callable[[float], list[str]]
_LOSING = (PlayKind.SACK, PlayKind.KNEEL)


class CannotWrite(ValueError):
    """A play that no line says; the text names it."""


def by_the_book(play: Play, rulebook: Rulebook) -> Play:
    """The play with each foul by the rulebook's own name, where a sheet gave it another that the book knows."""

    def named(foul: Foul) -> Foul:
        if foul.name in rulebook.fouls:
            return foul
        for by in (foul.by, None):
            try:
                return replace(foul, name=rulebook.foul(foul.name, by).name)
            except KeyError:
                continue
        return foul

    return (play if all(foul.name in rulebook.fouls for foul in play.fouls)
        else replace(play, fouls=tuple(map(named, play.fouls))))


def write(play: Play, before: Situation, rulebook: Rulebook) -> str:
    """The line for *play* in full words; fouls by the rulebook's own names. Raises CannotWrite if no line says it."""
    play = by_the_book(play, rulebook)
    for pieces in (*_natural(play, before, rulebook), _exactly(play, before, rulebook)):
        text = " ".join(pieces)
        if understood(text, before, rulebook) == play:
            return text
    raise CannotWrite(f"no line says {play}")


def shortest(play: Play, before: Situation, rulebook: Rulebook) -> str:
    """The line for *play* in as few keys as are understood. Raises CannotWrite if no line says it."""
    best: str | None = None
    fallback: list[str] | None = None
    tried = set()
    for pieces in _natural(play, before, rulebook, short=True):
        key = tuple(pieces)
        if key in tried:
            continue
        tried.add(key)
        forms = _forms(pieces, rulebook)
        for glue in ("", " "):
            text = _joined([form[0] for form in forms], glue)
            if best is not None and len(text) >= len(best):
                continue
            if understood(text, before, rulebook) == play:
                best = text
        if fallback is None and best is None and understood(" ".join(pieces), before, rulebook) == play:
            fallback = pieces
    if best is None and fallback is not None:
        best = _word_by_word(fallback, play, before, rulebook)
    if best is None:
        return write(play, before, rulebook)
    return _closer(best, lambda text: understood(text, before, rulebook) == play) if " " in best else best


def _forms(pieces: list[str], rulebook: Rulebook) -> list[list[str]]:
    """The ways to type each piece, shortest first."""
    words = lexicon(rulebook)
    forms = []
    for piece in pieces:
        known = words.phrases.get(parts_of(piece), [])
        short = {code for word in known for code in word.codes} | {piece}
        short |= {phrase for word in known if word.role is not Role.PREPOSITION for phrase in word.also
            if len(phrase) < 4}
        short |= _SIDE_SHORT.get(piece, set())
        forms.append(sorted(short, key=lambda form: (len(form), form not in _FIRST, form)))
    return forms


def _word_by_word(pieces: list[str], play: Play, before: Situation, rulebook: Rulebook) -> str:
    """The line with each piece, from the left, as short as leaves the play the same."""
    done = ""
    forms = _forms(pieces, rulebook)
    for place, piece in enumerate(pieces):
        tail = "".join(" " + other for other in pieces[place + 1 :])
        for form in forms[place]:
            if understood(f"{done} {form}{tail}".strip(), before, rulebook) == play:
                done = f"{done} {form}".strip()
                break
        else:
            done = f"{done} {piece}".strip()
    return done


_FIRST = ("ho", "dpi", "opi", "fu", "o", "a")


def _closer(text: str, same: Callable[[str], bool]) -> str:
    """The line without the spaces that it does not need."""
    at = text.find(" ")
    while at >= 0:
        without = text[:at] + text[at + 1 :]
        if same(without):
            text = without
            at -= 1
        at = text.find(" ", at + 1)
    return text


_SIDE_SHORT = {"own": {"o", "own"}, "opp": {"op"}, "home": {"h"}, "visitors": {"v"}, "end zone": {"e"},
    "opp end zone": {"ope", "oppe"}, "own end zone": {"oe", "owne"}}


def _joined(pieces: list[str], glue: str) -> str:
    text = ""
    for piece in pieces:
        between = glue if text else ""
        if text and text[-1].isdigit() and piece[:1].isdigit():
            between = " "
        elif text and (text[-1].isdigit() != piece[:1].isdigit() or piece[:1] in '"-'):
            between = ""
        text += between + piece
    return text


# -- natural lines --------------------------------------------------------------------------------------
def _natural(play: Play, before: Situation, rulebook: Rulebook, short: bool = False) -> Iterator[list[str]]:
    """The pieces of lines that may say *play*, the most natural first."""
    kind, outcome, length = play.kind, play.outcome, rulebook.field_length
    due = DUE_KIND.get(before.next)

    def sided(spot: float) -> list[str]:
        return _spot(spot, length)

    def bare(spot: float) -> list[str]:
        if length / 2 <= spot <= length:
            return [spoken_yards(length - spot)]
        if length < spot <= length + rulebook.end_zone_depth:
            return ["end zone", spoken_yards(spot - length)]
        return sided(spot)

    def by_team(spot: float) -> list[str]:
        if before.offense is None or not 0 <= spot <= length or spot == length / 2:
            return sided(spot)
        return [str(before.offense if spot < length / 2 else before.offense.opponents),
            spoken_yards(min(spot, length - spot))]

    def by_one(spot: float) -> list[str]:
        return ([("own" if spot < length / 2 else "opp"), *sided(spot)[1:]] if 0 <= spot <= length
            and spot != length / 2 else sided(spot))

    starts: list[tuple[list[str], Play]] = []
    plain = replace(play, outcome=None)
    if kind is PlayKind.PASS:
        if outcome in (Outcome.INCOMPLETE, Outcome.INTERCEPTED):
            starts.append(([outcome.value], plain))
        elif outcome is Outcome.COMPLETE:
            starts.append((["pass"], plain))
            starts.append((["scrimmage pass"], plain))
        else:
            starts.append((["pass", "outcome unknown" if outcome is None else outcome.value], plain))
    elif kind in TRIES:
        word = kind.value.removeprefix("try ")
        if kind is PlayKind.TRY_KICK and outcome is not None:
            starts.append(([outcome.value] if due is kind and short else ["try kick", outcome.value], plain))
        if before.next is Next.TRY:
            starts.append(([word if word != "kick" else "try kick"], play))
        starts.append(([kind.value], play))
    elif kind is PlayKind.NO_PLAY and play.fouls:
        starts += [([], play), ([kind.value], play)]
    elif kind is PlayKind.TIMEOUT and play.team is None:
        starts.append((["officials' timeout"], play))
    else:
        if kind is due and (short or kind is PlayKind.COIN_TOSS):
            starts.append(([], play))
        starts.append(([kind.value], play))
        if kind is PlayKind.FIELD_GOAL and short and outcome is Outcome.GOOD:
            starts.append(([kind.value], plain))
        if kind is PlayKind.RUN:
            starts.append((["scrimmage run"], play))
    tails = [_tail(play, rulebook)]
    if play.fouls and short:
        tails.insert(0, _tail(play, rulebook, brief=True))
    says: list[_Say] = (([bare, by_team, by_one, sided] if short else [sided]) if kind in KICKS or not short
        else [by_team, by_one, sided])
    for start, rest in starts:
        for say in says:
            for terse in (True, False) if short else (False, True):
                front = [play.manner] if play.manner else []
                middle = _middle(rest, play, outcome, say, rulebook, before, terse)
                for tail in tails:
                    yield [*front, *start, *middle, *tail]
                    if front:
                        yield [*start, *front, *middle, *tail]


def _middle(play: Play, whole: Play, outcome: Outcome | None, say: _Say, rulebook: Rulebook, before: Situation,
        terse: bool) -> list[str]:
    kind = play.kind
    pieces: list[str] = []
    events, spot, said_outcome = list(play.events), play.spot, play.outcome
    score = play.score
    if play.team is not None:
        pieces.append(str(play.team))
    if play.stands_as is not None:
        pieces.append(f"as {play.stands_as.value}")
    if play.kick_from is not None and kind is PlayKind.FIELD_GOAL:
        posts = rulebook.field_length + (0 if rulebook.single_point else rulebook.end_zone_depth)
        pieces += [_number(posts - play.kick_from)] if terse else [_number(posts - play.kick_from), "yards"]
    if play.gain is not None:
        pieces += _gain(play.gain, kind, terse)
    returned = False
    if play.kick_to is not None:
        placed = say(play.kick_to)
        if said_outcome in (Outcome.FAIR_CATCH, Outcome.DOWNED, Outcome.OUT_OF_BOUNDS) and not terse:
            pieces += [said_outcome.value, "at", *placed]
            said_outcome = None
        elif (said_outcome is Outcome.MUFFED and events and events[0] == BallEvent(EventKind.MUFF, play.kick_to,
                Side.DEFENSE)):
            pieces += placed if terse else ["to", *placed]
        elif kind is PlayKind.FIELD_GOAL:
            if said_outcome is not None:
                pieces.append(said_outcome.value)
                said_outcome = None
            pieces += ["downed", *placed]
        elif (kind in FREE_KICKS and events and events[0] == BallEvent(EventKind.RECOVERY, play.kick_to, events[0].by)
                and not terse):
            pass
        else:
            pieces += placed if terse else ["to", *placed]
        if kind in KICKS and spot is not None and said_outcome is Outcome.RETURNED and not events:
            pieces += say(spot) if terse else ["returned to", *say(spot)]
            spot, said_outcome, returned = None, None, True
    if said_outcome is Outcome.RETURNED and not returned and kind in KICKS:
        pieces.append("returned")
        said_outcome = None
        if spot is not None and not events:
            pieces += ["to", *say(spot)]
            spot = None
        elif events and events[0].kind is EventKind.FUMBLE and events[0].spot is not None:
            pieces += ["to", *say(events[0].spot)]
            events[0] = replace(events[0], spot=None)
    first = len(play.events) - len(events)
    if outcome is Outcome.INTERCEPTED:
        caught = (events[0] if events and events[0].kind is EventKind.INTERCEPTION and events[0].by is Side.DEFENSE
            else None)
        if caught is not None and caught.spot is not None:
            pieces += say(caught.spot) if terse else ["at", *say(caught.spot)]
            events = events[1:]
            first += 1
            if events and events[0].kind is EventKind.FUMBLE and events[0].spot is not None and not terse:
                pieces += ["returned to", *say(events[0].spot)]
                events[0] = replace(events[0], spot=None)
        if spot is not None and score is Score.NONE and spot > rulebook.field_length:
            pieces.append("touchback")
            spot, score = None, None
        elif spot is not None and not events:
            pieces += say(spot) if terse or caught is None else ["returned to", *say(spot)]
            spot = None
    if said_outcome is not None:
        pieces.append(said_outcome.value)
        if (said_outcome is Outcome.MUFFED and events and events[0].kind is EventKind.MUFF
                and events[0].by is Side.DEFENSE):
            events = events[1:]
            first += 1
    for place, event in enumerate(events):
        pieces += _event(event, whole, play.events[: first + place], say, terse)
    if spot is not None:
        taken = events and events[-1].kind in (EventKind.RECOVERY, EventKind.OWN_RECOVERY)
        if score is Score.NONE and (spot > rulebook.field_length or spot < 0) and (events or kind in KICKS):
            pieces.append("touchback")
            score = None
        elif (((play.outcome is Outcome.BLOCKED or kind is PlayKind.FIELD_GOAL) and not taken
                and play.possession is Side.DEFENSE) or (taken and events[-1].spot is None and kind in KICKS)):
            pieces += ["returned to", *say(spot)]
        else:
            pieces += ["to" if taken else "dead at", *say(spot)]
    if play.possession is not None and not (outcome is Outcome.INTERCEPTED and score is Score.TOUCHDOWN):
        if play.outcome is Outcome.BLOCKED and play.possession is Side.DEFENSE and score is not None and spot is None:
            pieces.append("returned")
        elif not (play.outcome is Outcome.BLOCKED and play.possession is Side.DEFENSE and spot is not None):
            pieces.append(f"{play.possession.value} ball")
    if score is not None:
        pieces.append({Score.FIELD_GOAL: "score field goal", Score.NONE: "no score",
            Score.SINGLE: "single point"}.get(score, score.value))
    if play.possession is not None and outcome is Outcome.INTERCEPTED and score is Score.TOUCHDOWN:
        pieces.append(f"{play.possession.value} ball")
    if play.choice is not None:
        pieces.append(play.choice)
    return pieces


def _gain(gain: float, kind: PlayKind, terse: bool) -> list[str]:
    if kind in _LOSING:
        return [_number(abs(gain))] if gain <= 0 else ["exact gain", _number(gain)]
    if kind in GAINING:
        return [_number(gain)] if terse or gain > 0 else ["no gain"] if gain == 0 else ["loss of", _number(-gain)]
    return ["exact gain", _number(gain)]


def _event(event: BallEvent, play: Play, earlier: tuple[BallEvent, ...], say: _Say, terse: bool) -> list[str]:
    """One event in words; who did it is said where it is not who has the ball."""
    holder = _holder(play, earlier)
    where = say(event.spot) if event.spot is not None else []
    at = [] if terse or not where else ["at"]
    if event.kind is EventKind.RECOVERY and event.by is not None:
        loose = earlier[-1].by if earlier and earlier[-1].by is not None else holder
        if not earlier:
            loose = Side.OFFENSE
        kept = event.by is loose
        if terse and (earlier or kept):
            return ["kept" if kept else "lost", *where]
        return ["recovered", "by", event.by.value, *at, *where]
    if event.kind is EventKind.MUFF and play.kind not in KICKS and event.by is Side.OFFENSE and not earlier:
        return ["bad snap", *at, *where]
    if event.kind is EventKind.MUFF and event.by is not None:
        usual = Side.DEFENSE if play.kind in KICKS else holder
        return ["muff", *([] if event.by is usual else ["by", event.by.value]), *at, *where]
    if (event.kind is EventKind.OUT_OF_BOUNDS and event.by is None and earlier
            and earlier[-1].kind in (EventKind.FUMBLE, EventKind.MUFF)):
        return ["out of bounds", *at, *where]
    if event.kind in (EventKind.FUMBLE, EventKind.LATERAL, EventKind.OWN_RECOVERY) and event.by is holder:
        return [event.kind.value, *at, *where]
    by = f" by {event.by.value}" if event.by is not None else ""
    return [f"event {event.kind.value}{by}", *(["event at", *where] if where else [])]


def _holder(play: Play, earlier: tuple[BallEvent, ...]) -> Side:
    holder = (Side.DEFENSE if play.outcome is Outcome.INTERCEPTED or (play.kind in KICKS
        and play.outcome is not Outcome.BLOCKED) else Side.OFFENSE)
    for event in earlier:
        if (event.kind in (EventKind.INTERCEPTION, EventKind.RECOVERY, EventKind.CATCH, EventKind.OWN_RECOVERY)
                and event.by is not None):
            holder = event.by
    return holder


# -- field by field ---------------------------------------------------------------------------------------
def _exactly(play: Play, before: Situation, rulebook: Rulebook) -> list[str]:
    """The line that says each field of *play* by its name: whatever the play, it is one."""
    length = rulebook.field_length
    pieces = [f"kind {play.kind.value}", "outcome unknown" if play.outcome is None else f"outcome {play.outcome.value}"]
    if play.manner:
        pieces.append(play.manner)
    for name, word in (("gain", "exact gain"), ("kick_from", "exact kick from"), ("kick_to", "exact kick to"),
            ("spot", "exact spot")):
        value = getattr(play, name)
        if value is not None:
            pieces += [word, *([_number(value)] if name == "gain" else _spot(value, length))]
    for event in play.events:
        by = f" by {event.by.value}" if event.by is not None else ""
        pieces.append(f"event {event.kind.value}{by}")
        if event.spot is not None:
            pieces += ["event at", *_spot(event.spot, length)]
    for name in ("possession", "score", "team", "choice"):
        value = getattr(play, name)
        if value is not None:
            pieces.append(f"{name} {value if name == 'choice' else value.value}")
    if play.stands_as is not None:
        pieces.append(f"as {play.stands_as.value}")
    return [*pieces, *_tail(play, rulebook, exactly=True)]


def _tail(play: Play, rulebook: Rulebook, brief: bool = False, exactly: bool = False) -> list[str]:
    pieces: list[str] = []
    for foul in play.fouls:
        pieces += _foul(foul, rulebook, brief, exactly)
        if foul.decision is FoulDecision.OFFSET and any(other.decision is None for other in play.fouls):
            pieces[-1] = "itself offset"
    if play.clock is not None:
        pieces.append(spoken_clock(play.clock))
    if play.comment:
        escaped = play.comment.replace("\\", "\\\\").replace('"', '\\"')
        pieces.append(f'"{escaped}"')
    if play.override is not None:
        pieces += _said(play.override, rulebook)
    return pieces


def _foul(foul: Foul, rulebook: Rulebook, brief: bool = False, exactly: bool = False) -> list[str]:
    rule = rulebook.fouls.get(foul.name)
    pieces = [foul.name.replace("-", " ")]
    if exactly or (rule is not None and rule.by is not None and rule.by is not foul.by):
        pieces.insert(0, "exactly")
    shared = (rule is not None and rule.by is not None and len(lexicon(rulebook).phrases.get(parts_of(foul.name),
        ())) > 1)
    if rule is None or rule.by is not foul.by or (shared and not brief):
        pieces.append(foul.by.value)
    if foul.spot is not None:
        pieces += ["at", *_spot(foul.spot, rulebook.field_length)]
    if foul.when is not None:
        pieces.append(foul.when.value)
    if foul.at is not None:
        pieces.append(f"enforced at {foul.at.value}".replace("-", " "))
    if foul.yards is not None:
        pieces += [_number(foul.yards), "yards"]
    if foul.enforced_from is not None:
        pieces += ["from", *_spot(foul.enforced_from, rulebook.field_length)]
    if foul.automatic_first_down is not None:
        pieces.append("automatic first down" if foul.automatic_first_down else "no automatic first down")
    if foul.loss_of_down is not None:
        pieces.append("loss of down" if foul.loss_of_down else "no loss of down")
    if foul.runoff:
        pieces.append("runoff")
    if foul.decision is not None:
        pieces.append(foul.decision.value)
    return pieces


def _said(said: SituationOverride, rulebook: Rulebook) -> list[str]:
    words = {"down": "down", "yards_to_gain": "to go", "period": "period", "score_home": "home score",
        "score_visitors": "visitors score", "timeouts_home": "home timeouts", "timeouts_visitors": "visitors timeouts"}
    pieces = ["set"]
    for entry in fields(said):
        value = getattr(said, entry.name)
        if value is None:
            continue
        if entry.name in words:
            pieces += [words[entry.name], _number(value)]
        elif entry.name == "ball_on":
            pieces += ["on", *_spot(value, rulebook.field_length)]
        elif entry.name == "offense":
            pieces.append(f"{value} ball")
        elif entry.name == "second_half_kicker":
            pieces.append("home kicks second half" if value is Team.HOME else "visitors kick second half")
        elif entry.name == "home_faces_right":
            pieces.append("home faces right" if value else "home faces left")
        elif entry.name == "next":
            pieces.append(f"next {value.value}")
    return pieces


def _spot(spot: float, length: float) -> list[str]:
    """A yard line as its side and its number."""
    if spot == length / 2:
        return [spoken_yards(spot)]
    *side, _ = spoken_spot(spot, length).split()
    yards = -spot if spot < 0 else spot - length if spot > length else spot if spot < length / 2 else length - spot
    return [*([" ".join(side)] if side else []), _number(yards)]


def _number(value: float) -> str:
    rounded = round(value, 6)
    return str(int(rounded)) if rounded == int(rounded) else repr(float(rounded))


# -- spelt out ------------------------------------------------------------------------------------------
def spell(play: Play, before: Situation, rulebook: Rulebook) -> str:
    """The play in full words, with distances and places: ``punt of 45 yards to opp 25, returned 12 yards``."""
    length, start, kind = rulebook.field_length, before.ball_on, play.kind
    parts: list[str] = []

    def place(spot: float) -> str:
        return spoken_spot(spot, length)

    head = "officials' timeout" if kind is PlayKind.TIMEOUT and play.team is None else kind.value
    if play.manner:
        head = play.manner if kind.value in play.manner or play.manner == kind.value else f"{head} ({play.manner})"
    if kind is PlayKind.PASS and play.outcome is not None and play.outcome is not Outcome.COMPLETE:
        head = {Outcome.INCOMPLETE: "incomplete pass", Outcome.INTERCEPTED: "pass intercepted"}.get(play.outcome,
            f"pass {play.outcome.value}")
        head += f" ({play.manner})" if play.manner else ""
    elif kind is PlayKind.PASS and play.outcome is Outcome.COMPLETE:
        head = f"pass complete{f' ({play.manner})' if play.manner else ''}"
    if play.gain is not None:
        gain = play.gain
        head += (f" for {spoken_yards(gain)} yards" if gain > 0 else f" for a loss of {spoken_yards(-gain)} yards"
            if gain else " for no gain")
        if start is not None and kind in GAINING and kind not in TRIES:
            head += f" to {place(start + gain)}"
    posts = length + (0 if rulebook.single_point else rulebook.end_zone_depth)
    if play.kick_from is not None:
        head += f" of {spoken_yards(posts - play.kick_from)} yards from {place(play.kick_from)}"
    if play.kick_to is not None:
        if start is not None and kind in KICKS and play.kick_to >= start:
            head += f" of {spoken_yards(play.kick_to - start)} yards"
        head += f" to {place(play.kick_to)}"
    if play.team is not None:
        head += f", {play.team}"
    parts.append(head)
    spot = play.spot
    if (play.outcome is not None and kind is not PlayKind.PASS and not (play.outcome is Outcome.RETURNED
            and spot is not None)):
        parts.append(play.outcome.value)
    for event in play.events:
        by = f" by the {event.by.value}" if event.by is not None and event.kind is not EventKind.INTERCEPTION else ""
        name = ("recovered" if event.kind is EventKind.RECOVERY else "caught" if event.kind is EventKind.INTERCEPTION
            else event.kind.value)
        parts.append(f"{name}{by}" + (f" at {place(event.spot)}" if event.spot is not None else ""))
    if spot is not None:
        bases = [event.spot for event in play.events if event.spot is not None] or ([play.kick_to]
            if play.kick_to is not None else [])
        if bases and (play.outcome in (Outcome.RETURNED, Outcome.INTERCEPTED) or play.events):
            parts.append(f"returned {spoken_yards(abs(spot - bases[-1]))} yards to {place(spot)}")
        else:
            parts.append(f"{'returned to' if play.outcome is Outcome.RETURNED else 'dead at'} {place(spot)}")
    if play.possession is not None:
        parts.append(f"ball of the {play.possession.value}")
    if play.score is not None:
        parts.append("no score" if play.score is Score.NONE else play.score.value)
    if play.stands_as is not None:
        parts.append(f"stands as {play.stands_as.value}")
    if play.choice:
        parts.append(play.choice)
    for foul in play.fouls:
        text = f"{foul.name} by the {foul.by.value}"
        text += f" at {place(foul.spot)}" if foul.spot is not None else ""
        text += f" {foul.when.value}" if foul.when is not None else ""
        text += f", {spoken_yards(foul.yards)} yards" if foul.yards is not None else ""
        text += f", {foul.decision.value}" if foul.decision is not None else ""
        text += f", enforced at {foul.at.value}" if foul.at is not None else ""
        parts.append(text)
    if play.clock is not None:
        parts.append(f"clock {spoken_clock(play.clock)}")
    if play.override is not None:
        parts.append(" ".join(_said(play.override, rulebook)))
    return ", ".join(parts)
