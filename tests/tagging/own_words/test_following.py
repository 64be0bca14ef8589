"""What is known of every play: said, carried on, or following. Expectations were written down before the first run."""

from __future__ import annotations

from workstation.football.field import Team
from workstation.football.plays import Foul, Outcome, Play, PlayKind, Side
from workstation.football.rulebook import load_rulebook
from workstation.football.tracker import track
from workstation.tagging.model import Game, PlayTag
from workstation.tagging.own_words.definition import WordSaid
from workstation.tagging.own_words.files import load_vocabulary, read_vocabulary
from workstation.tagging.own_words.following import How, Known, applies, known_words

BOOK = load_rulebook("nfhs")
KICKOFF = Play(PlayKind.KICKOFF, Outcome.TOUCHBACK)


def known(vocabulary, *plays, us=None):
    """What is known of each play; a play is one value and its words, or the value alone."""
    pairs = [each if isinstance(each, tuple) else (each, {}) for each in plays]
    tags = tuple(
        PlayTag(number, number, play, words=tuple(WordSaid(word, (value,) if value else ())
                                                  for word, value in words.items()))
        for number, (play, words) in enumerate(pairs, 1))
    game = Game(plays=tags, vocabulary=vocabulary)
    steps = track(BOOK, [tag.play for tag in tags])
    return [{name: (each.text, each.how) for name, each in words.items()} for words in known_words(game, steps, us)]


RUN, INCOMPLETE = Play(PlayKind.RUN, gain=4), Play(PlayKind.PASS, Outcome.INCOMPLETE)


def test_a_word_is_carried_on_within_the_drive_until_something_else_is_said(tmp_path):
    delivered = load_vocabulary(folder=tmp_path)
    found = known(delivered, KICKOFF, (RUN, {"personnel": "11"}), RUN, (RUN, {"personnel": "12"}), RUN,
                  Play(PlayKind.PUNT, Outcome.DOWNED, kick_to=80), RUN)
    assert [words.get("personnel") for words in found] == [
        None, ("11", How.SAID), ("11", How.CARRIED), ("12", How.SAID), ("12", How.CARRIED), None, None]


def test_that_there_is_none_ends_what_is_carried_on(tmp_path):
    delivered = load_vocabulary(folder=tmp_path)
    found = known(delivered, KICKOFF, (RUN, {"tempo": "no huddle"}), (RUN, {"tempo": ""}), RUN)
    assert [words.get("tempo") for words in found] == [None, ("no huddle", How.SAID), ("", How.SAID), None]


def test_the_hash_follows_where_the_ball_came_back(tmp_path):
    delivered = load_vocabulary(folder=tmp_path)
    false_start = Play(PlayKind.NO_PLAY, fouls=(Foul("false start", Side.OFFENSE),))
    found = known(delivered, KICKOFF, (RUN, {"hash": "left hash"}), RUN, (INCOMPLETE, {"hash": "right hash"}), RUN,
                  (false_start, {"hash": "middle"}), Play(PlayKind.TIMEOUT, team=Team.HOME), RUN)
    assert [words.get("hash") for words in found] == [
        None, ("left hash", How.SAID), None, ("right hash", How.SAID), ("right hash", How.FOLLOWS),
        ("middle", How.SAID), None, ("middle", How.FOLLOWS)]


def test_the_field_side_follows_from_the_hash(tmp_path):
    delivered = load_vocabulary(folder=tmp_path)
    found = known(delivered, KICKOFF, (INCOMPLETE, {"hash": "left hash"}), RUN, (RUN, {"hash": "middle"}),
                  (RUN, {"hash": "left hash", "field side": "field left"}))
    assert [words.get("field side") for words in found] == [
        None, ("field right", How.FOLLOWS), ("field right", How.FOLLOWS), None, ("field left", How.SAID)]


def test_a_hash_can_follow_from_where_the_last_play_ended():
    ours = read_vocabulary('''
[words.hash]
values = { left = [], middle = [], right = [] }
follows = [{ word = "ended", of = "last play", values = { "between the hashes" = "middle", left = "left" } },
           { word = "hash", of = "last play, where the ball came back" }]
[words.ended]
values = { left = [], "between the hashes" = ["b"], right = [] }
''')
    found = known(ours, KICKOFF, (RUN, {"ended": "between the hashes", "hash": "left"}), (RUN, {"ended": "left"}),
                  (RUN, {"ended": "right"}), RUN)
    assert [words.get("hash") for words in found] == [
        None, ("left", How.SAID), ("middle", How.FOLLOWS), ("left", How.FOLLOWS), None]


def test_what_was_said_in_a_word_that_is_no_longer_there_stays_known():
    assert known(read_vocabulary(""), (RUN, {"wind": "cross"})) == [{"wind": ("cross", How.SAID)}]


def test_what_a_word_is_said_about(tmp_path):
    delivered = load_vocabulary(folder=tmp_path)
    home = track(BOOK, [Play(PlayKind.COIN_TOSS, team=Team.HOME, choice="receive"), KICKOFF])[-1].after
    assert home.offense is Team.HOME
    tackler, hash_, formation = (delivered.word(name) for name in ("tackler", "hash", "formation"))
    assert applies(tackler, PlayKind.RUN, home, Team.VISITORS) and not applies(tackler, PlayKind.RUN, home, Team.HOME)
    assert applies(tackler, PlayKind.RUN, home)                       # nobody said which team is ours
    assert applies(hash_, PlayKind.PUNT, home) and not applies(hash_, PlayKind.TIMEOUT, home)
    assert applies(formation, PlayKind.SACK, home) and not applies(formation, PlayKind.PUNT, home)


def test_nothing_said_nothing_known(tmp_path):
    assert known(load_vocabulary(folder=tmp_path), KICKOFF, RUN) == [{}, {}]
    assert Known(("a", "b")).text == "a, b"
