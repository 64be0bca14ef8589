from __future__ import annotations

import copy
import json
import re
from importlib.resources import files
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.tagging.builders import full_game
from workstation.tagging import exchange
from workstation.tagging.exchange import (
    ExchangeError,
    from_document,
    import_game,
    read_json,
    schema,
    to_document,
    write_json,
)
from workstation.tagging.gamefile import GameFile
from workstation.tagging.model import Game
from workstation.tagging.serialise import Unreadable

HERE = Path("/games")
SCHEMA = jsonschema.Draft202012Validator(schema())


def document() -> dict:
    return json.loads(json.dumps(to_document(full_game(HERE), HERE)))


def test_a_game_comes_back_the_same(tmp_path):
    game = full_game(tmp_path)
    write_json(game, tmp_path / "a.json")
    assert read_json(tmp_path / "a.json") == game
    assert [each.name for each in tmp_path.iterdir()] == ["a.json"]


def test_a_game_goes_through_json_into_a_game_file_and_back(tmp_path):
    game = full_game(tmp_path)
    write_json(game, tmp_path / "a.json")
    with import_game(tmp_path / "a.json", tmp_path / "a.game") as file:
        assert file.game == game
        assert file.can_undo is None
        write_json(file.game, tmp_path / "b.json")
    assert (tmp_path / "a.json").read_bytes() == (tmp_path / "b.json").read_bytes()


def test_the_folder_may_move(tmp_path):
    (tmp_path / "old").mkdir()
    write_json(full_game(tmp_path / "old"), tmp_path / "old" / "a.json")
    (tmp_path / "old").rename(tmp_path / "new")
    assert read_json(tmp_path / "new" / "a.json") == full_game(tmp_path / "new")


def test_what_is_written_follows_the_schema():
    jsonschema.Draft202012Validator.check_schema(schema())
    SCHEMA.validate(document())
    SCHEMA.validate(to_document(Game(), HERE))


def test_the_schema_that_is_shipped_is_the_one_in_use():
    """To renew it: python -m workstation.tagging.exchange > resources/schemas/game.schema.json"""
    shipped = (files("workstation.resources") / "schemas" / "game.schema.json").read_text(encoding="utf-8")
    assert json.loads(shipped) == schema()


def test_the_example_in_the_guide_is_a_game():
    guide = (files("workstation.resources") / "game_json.md").read_text(encoding="utf-8")
    plain = json.loads(re.search("```json\n(.*?)```", guide, re.DOTALL)[1])
    SCHEMA.validate(plain)
    game = from_document(plain, HERE)
    assert (len(game.shots), len(game.moments), game.plays[0].play.gain) == (1, 2, 12.5)
    assert to_document(game, HERE) == plain


def test_every_mistake_is_told_at_once_with_its_place(tmp_path):
    plain = document()
    plain["plays"][1]["play"]["gian"] = plain["plays"][1]["play"].pop("gain")
    plain["shots"][0]["kind"] = "coin flip"
    del plain["notes"][0]["at"]["pts"]
    plain["film"]["sources"][0]["time_base"] = "0.1s"
    (tmp_path / "a.json").write_text(json.dumps(plain))
    with pytest.raises(ExchangeError) as error:
        import_game(tmp_path / "a.json", tmp_path / "a.game")
    assert [problem.split(":")[0] for problem in error.value.problems] == [
        "film.sources[0].time_base", "shots[0].kind", "plays[1].play.gian", "notes[0].at.pts",
    ]
    assert "a.json" in str(error.value)
    assert not (tmp_path / "a.game").exists()


@pytest.mark.parametrize(
    ("spoil", "said"),
    [
        (lambda plain: plain["shots"].append(plain["shots"][0]), "shot id 1 is taken"),
        (lambda plain: plain["shots"][0]["end"].update(pts=20 * 90000), "would overlap"),
        (lambda plain: plain["moments"][0]["at"].update(source="s5"), "no source 's5'"),
        (lambda plain: plain["plays"][0].update(shot=44), "no shot 44"),
        (lambda plain: plain["plays"][0].update(id=0), "a play has no id"),
        (lambda plain: plain["plays"][0].update(id=2**60), "ids run from 1"),
        (lambda plain: plain["film"]["sources"].append(plain["film"]["sources"][0]), "'s1' comes twice"),
        (lambda plain: plain["decisions"][0].update(reason=""), "a waiver needs a reason"),
        (lambda plain: plain.update(version=2), "version: expected 1, found 2"),
        (lambda plain: plain.pop("format"), "format"),
    ],
)
def test_a_game_that_breaks_a_rule_is_refused(spoil, said):
    plain = document()
    spoil(plain)
    with pytest.raises(Unreadable, match=said):
        from_document(plain, HERE)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "not JSON"),
        ("{", "not JSON"),
        ("[]", "format"),
        ('{"format": "football game film", "format": "football game film"}', "'format' comes twice"),
        ('{"format": NaN}', "NaN is not a number"),
        ("[" * 100_000, "nested too deeply"),
        ("1" * 5000, "not JSON"),
        ("\udcff", "not JSON"),
    ],
)
def test_what_is_no_json_is_told(tmp_path, text, said):
    (tmp_path / "a.json").write_bytes(text.encode(errors="surrogateescape"))
    with pytest.raises(ExchangeError, match=said):
        read_json(tmp_path / "a.json")


def test_a_file_far_too_large_is_not_read(tmp_path, monkeypatch):
    monkeypatch.setattr(exchange, "LARGEST_FILE", 1000)
    write_json(full_game(tmp_path), tmp_path / "a.json")
    with pytest.raises(ExchangeError, match="larger than"):
        read_json(tmp_path / "a.json")


def places(plain, path=()):
    """Every place in a document."""
    yield path
    inside = plain.items() if isinstance(plain, dict) else enumerate(plain) if isinstance(plain, list) else ()
    for key, value in inside:
        yield from places(value, (*path, key))


anything = st.recursive(
    st.none() | st.booleans() | st.integers(-10, 10**7) | st.floats(-1e9, 1e9) | st.sampled_from(
        ["", "run", "play", "s1", "1/90000", "home", "waived", "2026-09-04"]),
    lambda inner: st.lists(inner, max_size=2) | st.dictionaries(st.sampled_from(["id", "at", "pts", "kind"]), inner),
    max_leaves=4,
)


@settings(max_examples=200, deadline=None)
@given(st.data())
def test_the_reader_and_the_schema_agree_on_altered_games(data):
    """Checked by an independent validator (the jsonschema package): what one refuses, the other refuses, but for
    the rules that a schema cannot tell."""
    plain = document()
    spot = data.draw(st.sampled_from([place for place in places(plain) if place]))
    inside = plain
    for key in spot[:-1]:
        inside = inside[key]
    if data.draw(st.booleans()):
        inside[spot[-1]] = data.draw(anything)
    else:
        del inside[spot[-1]]
    valid = SCHEMA.is_valid(plain)
    try:
        game = from_document(copy.deepcopy(plain), HERE)
    except Unreadable as error:
        by_shape = any(re.search(": (expected|missing|unknown field)", problem) for problem in error.problems)
        assert valid != by_shape
    else:
        assert valid
        assert SCHEMA.is_valid(to_document(game, HERE))


def test_any_game_file_can_be_handed_on(file, tmp_path):
    write_json(file.game, tmp_path / "a.json")
    with GameFile.create(tmp_path / "again.game", game=read_json(tmp_path / "a.json")) as again:
        assert again.game == file.game


@settings(deadline=None)
@given(st.binary(max_size=200) | anything.map(lambda value: json.dumps(value).encode()))
def test_whatever_lies_in_a_file_ends_in_a_clear_error(tmp_path_factory, raw):
    path = tmp_path_factory.getbasetemp() / "any.json"
    path.write_bytes(raw)
    with pytest.raises(ExchangeError, match=r"any\.json"):
        read_json(path)
