"""Whatever knows plays knows the staff's own words: finder, captions, names, report, JSON, commands. Expectations came
before the first run."""

from __future__ import annotations

import json

import pytest

from tests.tagging.builders import full_game
from workstation.football.field import Team
from workstation.football.plays import Play, PlayKind
from workstation.football.rulebook import load_rulebook
from workstation.football.tracker import track
from workstation.season.finder import FactBook, counted, find, sentence
from workstation.tagging.exchange import from_document, read_json, to_document, write_json
from workstation.tagging.gamefile import GameFile
from workstation.tagging.model import Game, PlayTag, Shot, ShotKind
from workstation.tagging.own_words.definition import RESERVED, OwnWord, Vocabulary, WordKind, WordSaid
from workstation.tagging.own_words.files import load_vocabulary

BOOK = load_rulebook("nfhs")
RUN = Play(PlayKind.RUN, gain=4)


@pytest.fixture
def game(tmp_path):
    """A kickoff and five runs; the words of each as said."""
    delivered = load_vocabulary(folder=tmp_path)
    vocabulary = Vocabulary("ours", (*delivered.words, OwnWord("note", WordKind.TEXT)))
    said = ([], [("formation", "trips"), ("personnel", "11"), ("note", "left guard pulls")], [("formation", "doubles")],
            [("formation", "trips"), ("personnel", "12")], [("wind", "cross")], [])
    plays = (Play(PlayKind.KICKOFF, kick_to=100, team=Team.HOME), RUN, RUN, RUN, RUN, RUN)
    base = full_game(tmp_path)
    shot = Shot(1, base.shots[0].start, base.shots[0].end, ShotKind.PLAY)
    tags = tuple(PlayTag(number, number, play, 1 if number == 2 else None,
                         tuple(sorted((WordSaid(word, (value,)) for word, value in words), key=lambda each: each.word)))
                 for number, (play, words) in enumerate(zip(plays, said, strict=True), 1))
    return Game(base.heading, base.film, (shot,), plays=tags, vocabulary=vocabulary,
                coming=(WordSaid("formation", ("empty",)),))


def facts_of(game):
    return FactBook().of(game, track(BOOK, [tag.play for tag in game.plays]))


def chip(facts, words):
    return next(each for each in counted(facts) if each.words == words)


def test_finding_by_own_words(game):
    facts = facts_of(game)
    trips, doubles = chip(facts, "with formation trips"), chip(facts, "with formation doubles")
    eleven, cross = chip(facts, "with personnel 11"), chip(facts, "with wind cross")
    assert find(facts, [trips]) == [2, 4]
    assert find(facts, [trips, doubles]) == [2, 3, 4]           # values of one word widen
    assert find(facts, [eleven]) == [2, 3]                      # carried on counts
    assert find(facts, [trips, eleven]) == [2]                  # another word narrows
    assert find(facts, [cross]) == [5]                          # said in a word that the game has no more
    assert find(facts, words="left guard") == [2] and find(facts, words="doubles") == [3]
    assert not any("left guard" in each.words for each in counted(facts))      # free text is found by its words
    counts = counted(facts, [trips])
    assert counts[doubles] == 1 and counts[eleven] == 1
    assert sentence([trips, eleven, chip(facts, "runs")]) == "runs with formation trips with personnel 11"


def test_facts_follow_a_change_of_words(game):
    book, steps = FactBook(), track(BOOK, [tag.play for tag in game.plays])
    book.of(game, steps)
    changed = Game(game.heading, game.film, game.shots, plays=(game.plays[0], PlayTag(2, 2, RUN, 1), *game.plays[2:]),
                   vocabulary=game.vocabulary)
    assert book.of(changed, steps) == FactBook().of(changed, steps)


def test_captions_and_names(game):
    from workstation.delivery.naming import file_name
    from workstation.delivery.segment import play_segments
    segment, = play_segments(game, track(BOOK, [tag.play for tag in game.plays]))
    assert segment.caption.endswith("formation trips, personnel 11, note left guard pulls")
    assert file_name("{number} {formation} {play_call}", segment.fields, ".mp4", set()) == "002 trips.mp4"


def test_json_there_and_back(game, tmp_path):
    document = to_document(game, tmp_path)
    assert document["plays"][1]["words"][0] == {"word": "formation", "values": ["trips"]}
    assert document["coming"] == [{"word": "formation", "values": ["empty"]}]
    assert "personnel" not in json.dumps(document["plays"][2])          # nothing derived is in it
    assert from_document(document, tmp_path) == game
    write_json(game, tmp_path / "game.json")
    assert read_json(tmp_path / "game.json") == game


@pytest.mark.parametrize(("wrong", "said"), [
    ({"word": "", "values": ["x"]}, "an own word's name must have 1 to 60 characters"),
    ({"word": "a", "values": [""]}, "a must have 1 to 300 characters"),
    ({"word": "a", "value": "x"}, "plays[0].words[0].value: unknown field"),
])
def test_json_with_bad_words_is_refused(game, tmp_path, wrong, said):
    document = to_document(game, tmp_path)
    document["plays"][0]["words"] = [wrong]
    with pytest.raises(ValueError, match=said.replace("[", r"\[").replace("]", r"\]")):
        from_document(document, tmp_path)


def test_a_vocabulary_that_cannot_be_is_refused_by_the_game(game, tmp_path):
    document = to_document(game, tmp_path)
    document["vocabulary"]["words"].append({"name": "down", "kind": "number"})
    with pytest.raises(ValueError, match="own words: word 'down': a column of the play sheet has this name"):
        from_document(document, tmp_path)


def test_check_and_track_say_them(game, tmp_path, capsys):
    from workstation.__main__ import main
    GameFile.create(tmp_path / "a.game", game=game).close()
    main(["check", str(tmp_path / "a.game"), "--json"])
    own = json.loads(capsys.readouterr().out)["own_words"]
    assert [each["number"] for each in own] == [2, 3, 4, 5, 6]
    assert own[0]["words"]["formation"] == {"values": ["trips"], "known": "said"}
    assert own[1]["words"]["personnel"] == {"values": ["11"], "known": "carried on"}
    (tmp_path / "plays.csv").write_text("kind,gain,formation,wind\nrun,4,trips,cross\nrun,2,,\n")
    main(["track", str(tmp_path / "plays.csv"), "--json"])
    first, second = json.loads(capsys.readouterr().out)
    assert first["words"]["formation"] == {"values": ["trips"], "known": "said"}
    assert first["words"]["wind"] == {"values": ["cross"], "known": "said"} and "words" not in second
    (tmp_path / "plays.csv").write_text("kind,gain,target\nrun,4,Smith\n")
    main(["track", str(tmp_path / "plays.csv"), "--json"])
    told = capsys.readouterr()
    assert "words" not in json.loads(told.out)[0] and "own words are left out: row 2, column target" in told.err


def test_the_report_says_them_beside_the_situation(game):
    from workstation.coverage.checker import check_game
    from workstation.delivery.report import gather
    one = check_game(game)
    texts = {entry.finding.play: entry.situation for entry in gather(one.game, one.steps, one.coverage).entries
             if entry.finding.play is not None}
    assert texts and all("formation trips" in text for play, text in texts.items() if play in (2, 4))


def test_no_word_can_have_the_name_of_a_column_that_the_sheet_of_plays_has(game):
    from workstation.delivery.sheets import plays_sheet
    plain = Game(game.heading, game.film, game.shots, plays=tuple(PlayTag(tag.id, tag.order, tag.play, tag.shot)
                                                                  for tag in game.plays))
    columns = set(plays_sheet(plain, track(BOOK, [tag.play for tag in plain.plays])).columns)
    assert columns <= RESERVED, columns - RESERVED


def test_a_word_never_takes_the_place_of_a_field_of_file_names(game):
    from workstation.delivery.segment import play_segments
    tag = game.plays[1]
    changed = Game(game.heading, game.film, game.shots, plays=(game.plays[0], PlayTag(
        tag.id, tag.order, tag.play, tag.shot, (WordSaid("quarter", ("mine",)),)), *game.plays[2:]))
    segment, = play_segments(changed, track(BOOK, [each.play for each in changed.plays]))
    assert segment.fields["quarter"] == "1st quarter" and "quarter mine" in segment.caption
