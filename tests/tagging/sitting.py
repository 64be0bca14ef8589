"""A coordinator who tags at random, and a game kept in memory only to compare with."""

from __future__ import annotations

import hashlib
import json
from dataclasses import replace
from pathlib import Path
from random import Random

from tests.tagging.builders import at, source
from workstation.football.plays import Play, PlayKind
from workstation.tagging import operations as ops
from workstation.tagging import rules
from workstation.tagging.model import (
    Angle,
    CameraPlace,
    Decision,
    Drawing,
    DrawingKind,
    Framing,
    Game,
    Match,
    Moment,
    MomentKind,
    Note,
    Remark,
    Sequence,
    SequenceItem,
    Shot,
    ShotKind,
    Verdict,
)
from workstation.tagging.operations.own_words import Renamed
from workstation.tagging.own_words.definition import OwnWord, Vocabulary, WordSaid, WordValue
from workstation.tagging.records import GameDraft, InvalidOperation, Kind, Records
from workstation.tagging.serialise import to_plain


def random_operation(choose: Random, game: Game, folder: Path) -> ops.Operation:
    """Some operation that mostly, not always, can be done to *game*."""
    makers = [maker for maker in _MAKERS if maker.__name__ not in _RARE or choose.random() < 0.3]
    while True:
        try:
            return choose.choice(makers)(choose, game, folder)
        except IndexError:  # nothing of that kind in the game yet
            continue


def digest(game: Game) -> str:
    return hashlib.sha256(json.dumps(to_plain(game)).encode()).hexdigest()[:16]


class InMemory:
    """What a game file promises, without a file: every state is kept."""

    def __init__(self, game: Game):
        draft = GameDraft(Records(), Game())
        ops.TakeGame(game).apply(draft)
        self._states = [draft.records]
        self._words: list[str] = []
        self._position = 0
        self._used = draft.records.used

    @property
    def game(self) -> Game:
        return self._states[self._position].game()

    @property
    def can_undo(self) -> str | None:
        return self._words[self._position - 1] if self._position else None

    @property
    def can_redo(self) -> str | None:
        return self._words[self._position] if self._position < len(self._words) else None

    def do(self, operation: ops.Operation) -> None:
        before = self._states[self._position]
        records = Records(before.values, self._used)  # ids stay used when undone
        draft = GameDraft(records, records.game())
        operation.apply(draft)
        if found := rules.problems(draft.game, draft.edits()):
            raise InvalidOperation(*found)
        if draft.edits():
            del self._states[self._position + 1 :], self._words[self._position :]
            self._words.append(operation.describe(self.game))
            self._states.append(draft.records)
            self._position += 1
            self._used = draft.records.used

    def undo(self) -> bool:
        self._position -= (able := self._position > 0)
        return able

    def redo(self) -> bool:
        self._position += (able := self._position < len(self._words))
        return able


def _moment(choose: Random, game: Game):
    start = choose.choice(game.film.sources)
    return at(choose.randrange(0, 599), start.id)


def _free_shot(choose: Random, game: Game) -> Shot:
    start = _moment(choose, game)
    return Shot(0, start, start._replace(pts=start.pts + choose.randrange(1, 20) * 90000), _kind(choose))


def _kind(choose: Random) -> ShotKind | None:
    return choose.choice([None, *ShotKind])


def _play(choose: Random) -> Play:
    return Play(choose.choice(list(PlayKind)), gain=choose.choice([None, 4, -2.5]), comment=choose.choice(["", "é🏈"]))


def add_shot(choose, game, folder):
    return ops.AddShots(tuple(_free_shot(choose, game) for _ in range(choose.randrange(1, 3))))


def change_shot(choose, game, folder):
    shot = choose.choice(game.shots)
    end = shot.end._replace(pts=shot.end.pts - choose.randrange(-90000, 90000))
    return ops.ChangeShots((replace(shot, end=end, kind=_kind(choose), framing=choose.choice([None, *Framing])),))


def remove_shot(choose, game, folder):
    return ops.RemoveShots((choose.choice(game.shots).id,))


def split_shot(choose, game, folder):
    shot = choose.choice(game.shots)
    return ops.SplitShot(shot.id, shot.start._replace(pts=shot.start.pts + choose.randrange(0, 2 * 90000)))


def merge_shots(choose, game, folder):
    place = choose.randrange(len(game.shots) or 1)
    return ops.MergeShots(tuple(shot.id for shot in game.shots[place : place + 2]))


def confirm(choose, game, folder):
    return ops.ConfirmShots(choose.choice([None, (choose.choice(game.shots).id,)]))


def add_moment(choose, game, folder):
    return ops.AddRecord(Moment(0, choose.choice(list(MomentKind)), _moment(choose, game)))


def move_moment(choose, game, folder):
    return ops.MoveMoment(choose.choice(game.moments).id, _moment(choose, game))


def remove_moment(choose, game, folder):
    return ops.RemoveRecord(Kind.MOMENT, choose.choice(game.moments).id)


def add_play(choose, game, folder):
    shot = choose.choice([None, *game.shots])
    after = choose.choice([None, None, 0, *(tag.id for tag in game.plays)])
    return ops.AddPlay(_play(choose), shot.id if shot else None, after)


def change_play(choose, game, folder):
    return ops.ChangePlay(choose.choice(game.plays).id, _play(choose))


def film_play(choose, game, folder):
    return ops.FilmPlay(choose.choice(game.plays).id, choose.choice([None, choose.choice(game.shots).id, 9999]))


def move_play(choose, game, folder):
    return ops.MovePlay(choose.choice(game.plays).id, choose.choice([0, *(tag.id for tag in game.plays)]))


def remove_play(choose, game, folder):
    return ops.RemovePlay(choose.choice(game.plays).id)


def add_note(choose, game, folder):
    return ops.AddRecord(Note(0, _moment(choose, game), choose.choice(["look here", "x" * 5000, ""])))


def change_note(choose, game, folder):
    return ops.ChangeRecord(replace(choose.choice(game.notes), text="another word", until=_moment(choose, game)))


def remove_note(choose, game, folder):
    return ops.RemoveRecord(Kind.NOTE, choose.choice(game.notes).id)


def suggest_moment(choose, game, folder):
    return ops.AddRecord(Moment(0, choose.choice(list(MomentKind)), _moment(choose, game), uncertainty=0.7))


def confirm_moment(choose, game, folder):
    return ops.ConfirmMoments((choose.choice(game.moments).id,))


def add_remark(choose, game, folder):
    return ops.AddRecord(Remark(0, choose.choice(["shaky", "well done", ""]), _moment(choose, game),
                                praise=choose.choice([True, False])))


def change_remark(choose, game, folder):
    return ops.ChangeRecord(replace(choose.choice(game.remarks), word="too tight", until=_moment(choose, game)))


def remove_remark(choose, game, folder):
    return ops.RemoveRecord(Kind.REMARK, choose.choice(game.remarks).id)


def draw(choose, game, folder):
    points = tuple((choose.random(), choose.random()) for _ in range(choose.randrange(1, 50)))
    return ops.AddRecord(Drawing(0, DrawingKind.FREEHAND, _moment(choose, game), points))


def redraw(choose, game, folder):
    return ops.ChangeRecord(replace(choose.choice(game.drawings), kind=DrawingKind.CIRCLE))


def wipe(choose, game, folder):
    return ops.RemoveRecord(Kind.DRAWING, choose.choice(game.drawings).id)


def decide(choose, game, folder):
    verdict, reason = choose.choice(list(Verdict)), choose.choice(["", "ok"])
    return ops.Decide(Decision(f"finding {choose.randrange(5)}", verdict, reason))


def clear_decision(choose, game, folder):
    return ops.ClearDecision(choose.choice(game.decisions).finding)


def add_sequence(choose, game, folder):
    return ops.AddRecord(Sequence(0, "third downs", tuple(SequenceItem(tag.id, 1.5) for tag in game.plays[:3])))


def change_sequence(choose, game, folder):
    chosen = choose.choice(game.sequences)
    return ops.ChangeRecord(replace(chosen, items=(*chosen.items[::-1], SequenceItem(choose.choice(game.plays).id))))


def remove_sequence(choose, game, folder):
    return ops.RemoveRecord(Kind.SEQUENCE, choose.choice(game.sequences).id)


def heading(choose, game, folder):
    return ops.SetHeading(replace(game.heading, title=choose.choice(["Friday", "Saturday"])))


def reorder(choose, game, folder):
    ids = [each.id for each in game.film.sources]
    choose.shuffle(ids)
    return ops.OrderSources(tuple(ids))


def add_source(choose, game, folder):
    return ops.AddSources((source(choose.choice(["", "s1", "s7"]), folder),), choose.choice([None, 0, 5]))


def remove_source(choose, game, folder):
    if len(game.film.sources) < 2:
        raise IndexError
    return ops.RemoveSources((choose.choice(game.film.sources).id,), choose.choice([True, False]))


def relink(choose, game, folder):
    chosen = choose.choice(game.film.sources)
    return ops.RelinkSources((replace(chosen, path=folder / "moved" / chosen.path.name),))


_SAID = (WordSaid("formation", ("trips",)), WordSaid("formation"), WordSaid("pressure", ("blitz", "twist")),
         WordSaid("call", ("26 power é🏈",)), WordSaid("front", ("even",)), WordSaid("call", ("",)))


def say_words(choose, game, folder):
    said = tuple({each.word: each for each in choose.sample(_SAID, choose.randrange(4))}.values())
    return ops.SayWords(choose.choice(game.plays).id, said, choose.choice([(), ("formation",), ("front", "none")]))


def say_coming(choose, game, folder):
    return ops.SayComing(tuple(choose.sample(_SAID, choose.randrange(3))))


def add_play_with_words(choose, game, folder):
    return ops.several("tag it", [ops.AddPlay(_play(choose), words=game.coming), ops.SayComing()])


def set_vocabulary(choose, game, folder):
    formation, front = (OwnWord(name, values=(WordValue("trips", ("t",)), WordValue("even"))) for name in
                        choose.sample(("formation", "front", "offense", ""), 2))
    renamed = choose.choice([(), (Renamed("formation", "front"),), (Renamed("call", "call", "even", "odd"),)])
    return ops.SetVocabulary(Vocabulary("ours", choose.choice([(), (formation,), (formation, front)])), renamed)


def add_angle(choose, game, folder):
    name = choose.choice(["End zone", "Sideline", "Tower", ""])
    return ops.AddRecord(Angle(0, name, choose.choice(list(CameraPlace))))


def change_angle(choose, game, folder):
    return ops.ChangeRecord(replace(choose.choice(game.angles).angle, crew="R. Roe"))


def remove_angle(choose, game, folder):
    return ops.RemoveAngle(choose.choice(game.angles).angle.id, choose.choice([True, False]))


def film_angle(choose, game, folder):
    return ops.AddSources((source("", folder),), None, choose.choice(game.angles).angle.id)


def shoot_in_angle(choose, game, folder):
    filmed = choose.choice(game.angles)
    start = at(choose.randrange(0, 599), choose.choice(filmed.film.sources).id)
    return ops.AddShots((Shot(0, start, start._replace(pts=start.pts + 9 * 90000), _kind(choose)),))


def mark_in_angle(choose, game, folder):
    source = choose.choice(choose.choice(game.angles).film.sources)
    return ops.AddRecord(Moment(0, choose.choice(list(MomentKind)), at(choose.randrange(0, 599), source.id)))


def match(choose, game, folder):
    filmed = choose.choice(game.angles)
    shot = choose.choice(filmed.shots)
    same = choose.choice([None, (_moment(choose, game), shot.start)])
    return ops.MatchPlays((Match(filmed.angle.id, choose.choice(game.plays).id, shot.id, same),))


def unmatch(choose, game, folder):
    chosen = choose.choice(game.matches)
    return ops.UnmatchPlays(chosen.angle, choose.choice([None, (chosen.play,)]))


def split_in_angle(choose, game, folder):
    shot = choose.choice(choose.choice(game.angles).shots)
    return ops.SplitShot(shot.id, shot.start._replace(pts=shot.start.pts + choose.randrange(0, 2 * 90000)))


def merge_in_angle(choose, game, folder):
    shots = choose.choice(game.angles).shots
    place = choose.randrange(len(shots) or 1)
    return ops.MergeShots(tuple(shot.id for shot in shots[place : place + 2]))


def in_one(choose, game, folder):
    shot = replace(_free_shot(choose, game), id=max((shot.id for shot in game.shots), default=0) + 50)
    return ops.several("tag shot and play", [ops.AddShots((shot,)), ops.AddPlay(_play(choose), shot.id)])


_MAKERS = (
    add_shot, change_shot, remove_shot, split_shot, merge_shots, confirm, add_moment, move_moment, remove_moment,
    add_play, change_play, film_play, move_play, remove_play, add_note, change_note, remove_note,
    suggest_moment, confirm_moment, add_remark, change_remark, remove_remark, draw, redraw, wipe,
    decide, clear_decision, add_sequence, change_sequence, remove_sequence, heading, reorder, add_source,
    remove_source, relink, in_one, say_words, say_coming, add_play_with_words, set_vocabulary, add_angle, change_angle,
    remove_angle, film_angle, shoot_in_angle, mark_in_angle, match, unmatch, split_in_angle, merge_in_angle,
)
_RARE = {"remove_source", "add_source", "reorder", "remove_shot", "remove_play", "remove_angle"}
