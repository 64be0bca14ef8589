"""Turn an official play description into what a coordinator would tag.

Only what happened is carried over: who did what, how far, where the ball was caught, fumbled,
recovered or became dead; who fouled, where, and what was decided. Never the next situation, and a
penalty's yards only where they are the only word on where the foul happened (interference and
grounding are marked off at the spot of the foul).
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from workstation.football.field import Team
from workstation.football.plays import (
    BallEvent,
    EnforcedAt,
    EventKind,
    Foul,
    FoulDecision,
    FoulTime,
    Outcome,
    Play,
    PlayKind,
    Score,
    Side,
)

from .games import Game, Row

OFFENSE, DEFENSE = Side.OFFENSE, Side.DEFENSE

_KICKS = (PlayKind.PUNT, PlayKind.KICKOFF, PlayKind.SAFETY_FREE_KICK)
_GAINING = (PlayKind.RUN, PlayKind.PASS, PlayKind.SACK, PlayKind.KNEEL)
_TEAM = r"[A-Z]{2,3}"
_SPOT = rf"(?:{_TEAM} -?\d+|50)"
_PENALTY = re.compile(
    rf"P(?:ENALTY|enalty) on (?P<team>{_TEAM})(?:-(?P<who>[^,]*?))?, (?P<name>[^,]+?), "
    rf"(?:(?P<yards>\d+) yards?, enforced (?:at|in|between) (?P<at>{_SPOT}|[Ee]nd [Zz]one|downs)"
    rf"|(?P<decision>declined|offsetting|superseded))(?:, enforced (?:at|in) (?P<offset_at>{_SPOT}|[Ee]nd [Zz]one))?"
    r"(?P<no> - No Play)?"
)
_CHALLENGE = re.compile(
    r"(?:^|(?<=[.\])] ))[^.]*? [Cc]hallenged (?:the|by|if|whether) .*?(?:Upheld|UPHELD|REVERSED)\.?")
_BACKWARD = re.compile(r"[^.{}]*\b(?:[Bb]ackwards?|[Ll]ateral pass|no pass attempt)\b[^.{}]*")     # remarks
_ILLEGAL_PASS = re.compile(r"(?<=\. )[A-Z][^. ]*\.[^.]*? pass ")   # a second act in the same row
_ALIASES = {"SL": "STL", "JAX": "JAC", "BLT": "BAL", "ARZ": "ARI", "HST": "HOU", "PH": "PHI", "CLV": "CLE"}
_ASIDE = re.compile(r"\([^()]*\)|\[[^\[\]]*\]")
_TOKEN = re.compile("|".join((
    rf"(?P<kick>(?:kicks|punts)(?: onside)? (?P<kicked>-?\d+) yards?(?: from {_SPOT})? to (?P<kick_to>{_SPOT}|end "
    r"zone))",
    rf"(?P<move>(?:to|at) (?P<move_to>{_SPOT}) for (?P<gain>-?\d+|no) (?:yards?|gain))",
    r"(?P<far>for (?P<far_gain>-?\d+) yards?(?=, (?:TOUCHDOWN|SAFETY)))",
    rf"(?P<taken>INTERCEPTED by .*? at (?P<taken_at>{_SPOT}))",
    r"(?P<fumble>FUMBLES(?:,? (?:Aborted )?at (?P<fumble_at>" + _SPOT + r"))?)",
    rf"(?P<recovered>(?:RECOVERED|recovered) by (?P<by>{_TEAM})(?:-[^,]*?)?(?: at (?P<recovered_at>{_SPOT})|(?=,|\.(?: "
    r"|$)|$)))",
    rf"(?P<own>and recovers at (?P<own_at>{_SPOT}))",
    rf"(?P<loose_out>ball out of bounds (?:at (?P<out_at>{_SPOT})|(?P<out_zone>in End Zone)))",
    r"(?P<muff>MUFFS catch)",
    rf"(?P<touched>, touched at (?P<touched_at>{_SPOT}))",
    r"(?P<lateral>Lateral to|Pass back to)",
    r"(?P<touchdown>(?<=[,.] )TOUCHDOWN(?! NULLIFIED))",
    r"(?P<touchback>Touchback)",
    r"(?P<safety>SAFETY(?! NULLIFIED))",
    r"(?P<downed>downed by)",
    r"(?P<fair>fair catch)",
    r"(?P<out>, out of bounds)",
    r"(?P<nullified>(?:TOUCHDOWN|SAFETY) NULLIFIED)",
)))


@dataclass(slots=True)
class Converted:
    """A play as tagged, and what sort of row it was: ``plain`` means without penalty, fumble, muff,
    replay or lateral. ``ends_on`` is the last yard line that the description prints for the dead
    ball, for the offense; ``marked_off`` the yards it prints for its one penalty, ``marked_to`` where
    they lead. These are only used to find rows that contradict each other and to sort mismatches by
    cause, never to predict."""

    play: Play
    sort: str
    plain: bool
    ends_on: float | None = None
    marked_off: float | None = None
    marked_to: float | None = None


class Converter:
    """Converts the rows of one game; knows nothing but the two teams' names."""

    def __init__(self, game: Game) -> None:
        self.game = game
        self.free_kick_follows_safety = False

    def team(self, abbreviation: str) -> Team:
        return Team.HOME if self.name(abbreviation) == self.game.home else Team.VISITORS

    def name(self, team: str) -> str:
        """The team as this game's account heads its rows; some descriptions use other abbreviations."""
        if team in (self.game.home, self.game.visitors):
            return team
        team = _ALIASES.get(team, team)
        return next((t for t in (self.game.home, self.game.visitors) if t.startswith(team)), team)

    def spot(self, text: str, offense: str) -> float:
        """A printed yard line in yards from the offense's own goal line."""
        if text == "50":
            return 50.0
        team, yards = text.split()
        team = self.name(team)
        return float(yards) if team == offense else 100.0 - float(yards)

    def convert(self, row: Row) -> Converted | None:
        """The row as a tag, or None if it says nothing a coordinator would tag."""
        text = row.text
        timeout = re.match(r"Timeout #\d by (\w+)", text)
        if timeout:
            return Converted(Play(PlayKind.TIMEOUT, team=self.team(timeout[1]), clock=row.clock), "timeout", True)
        if not row.team or not (row.down or " kicks " in text or "extra point" in text or "TWO-POINT" in text
                                or _PENALTY.search(text)):
            return None
        replayed = "REVERSED" in text
        if replayed:
            told = text.rsplit("REVERSED.", 1)
            if len(told) == 2 and re.search(r"[A-Z]\.|extra point|PENALTY", told[1]):
                text = told[1]
        fouls = list(_PENALTY.finditer(text))
        body = _PENALTY.sub(" ", text)
        body = body.replace("FUMBLES (Aborted)", "FUMBLES Aborted")
        while _ASIDE.search(body):
            body = _ASIDE.sub(" ", body)
        body = _CHALLENGE.sub(" ", " ".join(body.split()))
        plain = not (fouls or replayed or "FUMBLES" in body or "MUFFS" in body or "ateral" in body
                     or "PENALTY" in text or "Penalty" in text)
        if any(m["name"] == "Illegal Forward Pass" and m["yards"] and self.name(m["team"]) == row.team for m in fouls):
            body = _until_illegal_pass(body)
        kind = self._kind(body, text)
        if kind is None or (kind is PlayKind.NO_PLAY and not fouls):
            return None
        sort = kind.value
        fields = self._action(kind, body, row)
        if kind is PlayKind.PASS and fields.get("outcome"):
            sort = f"pass {fields['outcome'].value}"
        touched = [m for m in fouls if m["name"] == "Illegal Touch Kick" and self.name(m["team"]) == row.team
                   and m["yards"] and not m["no"]]
        if touched:  # the receivers take the ball where the kickers touched it; that alone is no foul
            fields["possession"] = DEFENSE
            fouls = [m for m in fouls if m not in touched or m["yards"] != "0"]
        if fouls:
            fields["fouls"] = tuple(
                self._foul(match, row, kind, fields, any(m["no"] for m in fouls), "NULLIFIED" in text)
                for match in fouls)
        if not plain:
            sort = ("replay" if replayed else "penalty" if fouls else "lateral" if "ateral" in body
                    else "muff" if "MUFFS" in body else "fumble") + f" on a {kind.value}"
        play = Play(kind, clock=row.clock, **fields)
        if any(m["no"] for m in fouls) and any(
                foul.name in _DEAD_AT_ONCE and foul.decision is not FoulDecision.DECLINED for foul in play.fouls):
            play = Play(PlayKind.NO_PLAY, clock=row.clock, fouls=play.fouls)  # what was run after it is no play
        if (kind is not PlayKind.NO_PLAY and not any(m["no"] for m in fouls)) or "SAFETY" in text:
            self.free_kick_follows_safety = re.search(r"SAFETY(?! NULLIFIED)", text) is not None
        enforced = [m for m in fouls if m["yards"]]
        marked_off = float(enforced[0]["yards"]) if len(enforced) == 1 else None
        marked_to = None
        if marked_off is not None and re.fullmatch(_SPOT, enforced[0]["at"]):
            forward = self.name(enforced[0]["team"]) != row.team
            marked_to = self.spot(enforced[0]["at"], row.team) + (marked_off if forward else -marked_off)
        ends_on = self._ends_on(play, row, body) if not enforced else None
        return Converted(play, sort, plain, ends_on, marked_off, marked_to)

    def _ends_on(self, play: Play, row: Row, body: str) -> float | None:
        """The last yard line printed for the ball, or where it was snapped after an incomplete pass."""
        if "Touchback" in body or play.score is not None or play.kind in (
                PlayKind.TRY_KICK, PlayKind.TRY_RUN, PlayKind.TRY_PASS, PlayKind.NO_PLAY):
            return None
        if play.kind is PlayKind.FIELD_GOAL and play.spot is None and not play.events:
            if play.outcome is Outcome.GOOD or play.kick_from is None:
                return None
            return min(play.kick_from, 80.0)
        if play.kind is PlayKind.SPIKE or play.outcome is Outcome.INCOMPLETE:
            return self.spot(row.ball_on, row.team)
        printed = re.findall(rf"(?:to|at) ({_SPOT})", body)
        return self.spot(printed[-1], row.team) if printed else None

    def _kind(self, body: str, text: str) -> PlayKind | None:
        if "extra point is" in body:
            return PlayKind.TRY_KICK
        if "TWO-POINT" in text:
            return PlayKind.TRY_PASS if re.search(r"\bpass\b|sacked", body) else PlayKind.TRY_RUN
        if re.search(r"\bkicks (?:onside )?-?\d+ yards?", body):
            return PlayKind.SAFETY_FREE_KICK if self.free_kick_follows_safety else PlayKind.KICKOFF
        if re.search(r"\bpunts\b|punt is", body):
            return PlayKind.PUNT
        if "field goal is" in body:
            return PlayKind.FIELD_GOAL
        if "sacked" in body:
            return PlayKind.SACK
        if re.search(r"\bspiked\b", body):
            return PlayKind.SPIKE
        if re.search(r"\bpass\b", _BACKWARD.sub(" ", body.partition(" RECOVERED by ")[0])):
            return PlayKind.PASS
        if "kneels" in body:
            return PlayKind.KNEEL
        if not _TOKEN.search(body):
            return PlayKind.NO_PLAY
        return PlayKind.RUN

    def _action(self, kind: PlayKind, body: str, row: Row) -> dict:
        """What became of the ball, token by token."""
        if kind is PlayKind.NO_PLAY:
            return {}
        if kind is PlayKind.TRY_KICK:
            return {"outcome": self._tried(body, "extra point is GOOD")}
        if kind in (PlayKind.TRY_RUN, PlayKind.TRY_PASS):
            return {"outcome": self._tried(body, "ATTEMPT SUCCEEDS")}
        if kind is PlayKind.SPIKE:
            return {}
        fields: dict = {}
        if kind is PlayKind.FIELD_GOAL:
            distance = re.search(r"(\d+) yard field goal", body)
            if distance:
                fields["kick_from"] = 110.0 - float(distance[1])
            if "is GOOD" in body:
                return fields | {"outcome": Outcome.GOOD}
            fields["outcome"] = Outcome.BLOCKED if "BLOCKED" in body else Outcome.NO_GOOD
        elif kind is PlayKind.PUNT and "BLOCKED" in body:
            fields["outcome"] = Outcome.BLOCKED
        elif kind is PlayKind.PASS and "incomplete" in body:
            fields["outcome"] = Outcome.INCOMPLETE
            if "INTERCEPTED" not in body and "FUMBLES" not in body[body.index("incomplete"):]:
                return fields
        elif kind is PlayKind.PASS:
            fields["outcome"] = Outcome.COMPLETE
        offense = row.team
        start = self.spot(row.ball_on, offense)
        events: list[BallEvent] = []
        holder = DEFENSE if kind in _KICKS else OFFENSE
        where: float | None = None
        moves = 0
        for token in _TOKEN.finditer(body):
            what = token.lastgroup
            what = next(name for name in _NAMES if token[name] is not None)
            if what == "kick":
                events.clear()  # what went before the kick no longer matters
                fields.clear()
                holder = DEFENSE
                if token["kick_to"] == "end zone":
                    where = start + float(token["kicked"])
                else:
                    where = self.spot(token["kick_to"], offense)
                fields["kick_to"] = where
            elif what == "move":
                where = self.spot(token["move_to"], offense)
                if not events and holder is OFFENSE and kind in _GAINING and moves == 0:
                    fields["gain"] = 0.0 if token["gain"] == "no" else float(token["gain"])
                fields["spot"] = where
                moves += 1
            elif what == "far":
                if not events and holder is OFFENSE and kind in _GAINING and moves == 0:
                    fields["gain"] = float(token["far_gain"])
                    where = start + fields["gain"]
                moves += 1
            elif what == "taken":
                where = self.spot(token["taken_at"], offense)
                fields["outcome"] = Outcome.INTERCEPTED
                events.append(BallEvent(EventKind.INTERCEPTION, where, DEFENSE))
                holder = DEFENSE
            elif what == "fumble":
                if token["fumble_at"]:
                    where = self.spot(token["fumble_at"], offense)
                if kind is PlayKind.SACK and moves == 0 and where is None:
                    where = start
                # An aborted snap was never in anyone's possession.
                lost = (EventKind.MUFF if "Aborted" in token[0] or "Aborted." in body[:token.start()]
                        else EventKind.FUMBLE)
                events.append(BallEvent(lost, where, holder))
                fields.pop("spot", None)
            elif what == "recovered":
                if not events and "kick_to" not in fields and fields.get("outcome") is not Outcome.BLOCKED:
                    continue  # a remark, not the account
                by = OFFENSE if self.name(token["by"]) == offense else DEFENSE
                if token["recovered_at"]:
                    where = self.spot(token["recovered_at"], offense)
                if by is OFFENSE and not events and kind is PlayKind.KICKOFF and where < start + 10:
                    # A kick that the kickers may not have would be a foul in the account; so it was touched before.
                    events.append(BallEvent(EventKind.MUFF, where, DEFENSE))
                himself = by is OFFENSE and _snapped_to_himself(body, token[0])
                events.append(BallEvent(EventKind.OWN_RECOVERY if himself else EventKind.RECOVERY, where, by))
                fields.pop("spot", None)
                holder = by
            elif what == "own":
                where = self.spot(token["own_at"], offense)
                events.append(BallEvent(EventKind.OWN_RECOVERY, where, holder))
                fields.pop("spot", None)
            elif what == "loose_out":
                if token["out_at"]:
                    where = self.spot(token["out_at"], offense)
                else:
                    where = 0.0 if (where if where is not None else start) < 50 else 100.0
                events.append(BallEvent(EventKind.OUT_OF_BOUNDS, where))
                fields.pop("spot", None)
            elif what == "muff":
                events.append(BallEvent(EventKind.MUFF, where, holder))
                if fields.get("outcome") is None:
                    fields["outcome"] = Outcome.MUFFED
            elif what == "touched":
                if events and events[-1].kind is EventKind.FUMBLE and holder is OFFENSE and kind in _GAINING:
                    events.append(BallEvent(EventKind.MUFF, self.spot(token["touched_at"], offense)))
            elif what == "lateral":
                events.append(BallEvent(EventKind.LATERAL, where, holder))
            elif what == "touchdown":
                fields["score"] = Score.TOUCHDOWN
                fields.pop("spot", None)
            elif what == "safety":
                fields["score"] = Score.SAFETY
                fields.pop("spot", None)
            elif what == "touchback" and kind is not PlayKind.FIELD_GOAL:
                kicked_dead = kind in _KICKS and not events
                out_of_zone = events and events[-1].kind is EventKind.OUT_OF_BOUNDS and holder is OFFENSE
                if kicked_dead:
                    fields["outcome"] = Outcome.TOUCHBACK
                elif not out_of_zone:       # where it went out says it
                    fields["spot"] = 105.0 if holder is DEFENSE else -5.0
                    fields["score"] = Score.NONE
            elif what == "nullified":
                if token[0].startswith("TOUCHDOWN"):
                    fields["score"] = Score.TOUCHDOWN
                    fields.pop("spot", None)
            elif "outcome" not in fields:
                fields["outcome"] = {"downed": Outcome.DOWNED, "fair": Outcome.FAIR_CATCH,
                                     "out": Outcome.OUT_OF_BOUNDS}[what]
        if "gain" in fields and not events:
            fields.pop("spot", None)
        if events:
            fields["events"] = tuple(events)
        return fields

    @staticmethod
    def _tried(body: str, good: str) -> Outcome:
        body, _, returned = body.partition("DEFENSIVE TWO-POINT ATTEMPT")
        if "ATTEMPT SUCCEEDS" in returned:
            return Outcome.RETURNED
        return Outcome.GOOD if good in body else Outcome.NO_GOOD

    def _foul(self, match: re.Match, row: Row, kind: PlayKind, fields: dict,
              nullified: bool, score_nullified: bool) -> Foul:
        offense = row.team
        by = OFFENSE if self.name(match["team"]) == offense else DEFENSE
        name = match["name"].lower().replace("double-team", "double team")  # the rulebook has no hyphen there
        if match["decision"]:
            if match["decision"] != "offsetting":
                return Foul(name, by, decision=FoulDecision.DECLINED)
            # Offsetting fouls that leave the play standing came after it, or on the return.
            if match["offset_at"] and not nullified and re.fullmatch(_SPOT, match["offset_at"]):
                return Foul(name, by, self.spot(match["offset_at"], offense), FoulTime.AFTER_POSSESSION_CHANGE,
                            FoulDecision.OFFSET)
            return Foul(name, by, decision=FoulDecision.OFFSET, when=None if nullified else FoulTime.AFTER_DOWN)
        start = self.spot(row.ball_on, offense)
        at, yards = match["at"], float(match["yards"])
        spot: float | None = None
        when: FoulTime | None = None
        choice: EnforcedAt | None = None
        if re.fullmatch(_SPOT, at):
            spot = self.spot(at, offense)
        elif at.lower() == "end zone":
            spot = -1.0 if by is OFFENSE else 101.0
        dead = fields.get("spot")
        if dead is None and kind is PlayKind.SACK and fields.get("events"):
            dead = fields["events"][-1].spot
        if dead is None:
            dead = fields.get("kick_to", start + fields.get("gain", 0.0))
        changed = kind in _KICKS or any(
            e.by is DEFENSE for e in fields.get("events", ())) or (
            kind is PlayKind.FIELD_GOAL and fields.get("outcome") is not Outcome.GOOD)
        kick = kind in _KICKS
        if name == "defensive holding" and kick and not match["no"]:
            name = "offensive holding"  # a block on the kick or its return, whichever way it is printed
        if not changed and name.startswith("offensive " if by is DEFENSE else "defensive "):
            name = name.replace("offensive", "defensive") if by is DEFENSE else name.replace("defensive", "offensive")
            name = "delay of game" if "delay" in name else name
        if (kind in (PlayKind.TRY_KICK, PlayKind.TRY_RUN, PlayKind.TRY_PASS) and nullified and at != "downs"
                and "interference" not in name):
            return Foul(name, by, decision=FoulDecision.ACCEPTED, at=EnforcedAt.PREVIOUS_SPOT)
        if "superseded" in row.text and match["no"] and not changed:
            return Foul(name, by, decision=FoulDecision.ACCEPTED, at=EnforcedAt.PREVIOUS_SPOT)
        if name == "illegal forward pass" and match["no"] and spot == start:
            name = "illegal second forward pass"
        if score_nullified and by is DEFENSE and not changed:
            interfered = "interference" in name
            return Foul(name, by, spot=start + yards if interfered else None, decision=FoulDecision.ACCEPTED,
                        at=EnforcedAt.SPOT_OF_FOUL if interfered else EnforcedAt.PREVIOUS_SPOT)
        if name == "defensive pass interference":
            spot = start + yards
        elif name == "intentional grounding":
            spot = -1.0 if at.lower() == "end zone" else start - yards if yards > min(10, start / 2) else None
        elif kind is PlayKind.NO_PLAY:
            spot = None
            if at == "downs":
                when = FoulTime.AFTER_DOWN
        elif at == "downs":
            when = FoulTime.AFTER_DOWN
            if kind in (PlayKind.FIELD_GOAL, PlayKind.TRY_KICK, PlayKind.TRY_PASS, PlayKind.TRY_RUN) \
                    or fields.get("score") is Score.TOUCHDOWN:
                choice = EnforcedAt.KICKOFF
        elif not match["no"] and spot == dead and (
                "delay of game" in name
                or (not changed and (name in _PERSONAL if by is OFFENSE else
                                     dead < start or (kind is PlayKind.PASS and (
                                         name in _WHILE_LOOSE or fields.get("outcome") is Outcome.INCOMPLETE))))):
            when, spot = FoulTime.AFTER_DOWN, None  # the play stands, and it is added where the ball died
        elif spot == start and not match["no"] and by is OFFENSE and not changed and name not in _PERSONAL:
            pass    # the account lets the play stand: it was on the line itself, and no yards are left of it
        elif spot == start and (match["no"] or spot != dead):
            spot = None
            if changed or (match["no"] and (name in _PERSONAL or (by is DEFENSE and dead <= start))):
                choice = EnforcedAt.PREVIOUS_SPOT  # the offended team's choice
        elif changed and at.lower() == "end zone" and by is OFFENSE:
            choice = EnforcedAt.SPOT_OF_FOUL
        elif changed:
            if kick and by is DEFENSE and spot is not None and spot == fields.get("kick_to") \
                    and fields.get("spot", 0.0) > spot:     # the return lost ground
                spot, choice = None, EnforcedAt.END_OF_KICK
            elif not kick or by is DEFENSE:
                when = FoulTime.AFTER_POSSESSION_CHANGE
        elif spot == dead and (by is DEFENSE):
            spot = None
        return Foul(name, by, spot=spot, when=when, decision=FoulDecision.ACCEPTED, at=choice)


def _snapped_to_himself(body: str, recovered: str) -> bool:
    """Whether a snap that failed was recovered by the player whom it was meant for."""
    meant = re.search(r"([A-Z][A-Za-z.' -]*) Aborted\.", body)
    return meant is not None and recovered.split("-", 1)[-1].startswith(meant[1].strip())


def _until_illegal_pass(body: str) -> str:
    """The account up to a forward pass, penalized as such, that came after a run or a completed pass."""
    second = _ILLEGAL_PASS.search(body.partition("RECOVERED by")[0])
    return body if second is None else body[:second.start()]


_NAMES = ("kick", "move", "far", "taken", "fumble", "recovered", "own", "loose_out", "muff", "touched", "lateral",
          "touchdown", "touchback", "safety", "downed", "fair", "out", "nullified")

_DEAD_AT_ONCE = ("false start", "encroachment", "neutral zone infraction", "delay of game", "defensive delay of game")
_WHILE_LOOSE = ("defensive holding", "illegal contact", "illegal use of hands")
_PERSONAL = ("unnecessary roughness", "personal foul", "unsportsmanlike conduct", "taunting", "disqualification",
             "delay of game")
