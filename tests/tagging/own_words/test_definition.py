"""Definition files of a staff's own words: what is delivered, and clear errors for what cannot be used."""

from __future__ import annotations

import pytest

from workstation.definition_files import LARGEST_FILE
from workstation.football.sheet import COLUMNS
from workstation.tagging.own_words.definition import RESERVED, Of, Vocabulary, WordKind
from workstation.tagging.own_words.files import (
    VocabularyError,
    load_vocabulary,
    read_vocabulary,
    save_vocabulary,
    vocabulary_names,
    vocabulary_text,
)

ASKED_FOR = {"formation", "personnel", "strength", "motion", "play call", "ball carrier", "thrower", "target", "front",
             "coverage", "pressure", "tackler", "hash", "tempo", "box count"}


def test_what_is_delivered_has_the_words_that_a_staff_asks_for(tmp_path):
    delivered = load_vocabulary(folder=tmp_path)
    names = [word.name for word in delivered.words]
    assert set(names) >= ASKED_FOR
    assert len(names) == len(set(names))
    assert delivered.word("Play_Call").kind is WordKind.ONE
    assert delivered.word("pressure").kind is WordKind.SEVERAL
    assert delivered.word("box count").kind is WordKind.NUMBER
    assert {delivered.word(name).kind for name in ("ball carrier", "thrower", "target", "tackler")} == {WordKind.PLAYER}
    assert delivered.word("hash").follows[0].of is Of.LAST_IF_BALL_CAME_BACK


@pytest.mark.parametrize("name", sorted(ASKED_FOR | {"field side"}))
def test_each_delivered_word_can_be_removed(tmp_path, name):
    """A word that another follows from goes with that rule of the other; the error says which."""
    delivered = load_vocabulary(folder=tmp_path)
    left = Vocabulary("", tuple(word for word in delivered.words if word.name != name))
    if name == "hash":
        with pytest.raises(VocabularyError, match="'field side': it follows from 'hash', and there is no such word"):
            save_vocabulary(left, folder=tmp_path)
    else:
        save_vocabulary(left, folder=tmp_path)
        assert load_vocabulary(folder=tmp_path) == left


def test_a_definition_is_written_and_read_back(tmp_path):
    delivered = load_vocabulary(folder=tmp_path)
    assert read_vocabulary(vocabulary_text(delivered)) == delivered
    save_vocabulary(delivered, "ours", tmp_path)
    assert load_vocabulary("ours", tmp_path) == delivered
    assert vocabulary_names(tmp_path) == ["default", "ours"]
    assert load_vocabulary(tmp_path / "ours.toml") == delivered


def test_no_word_may_be_named_like_a_column_of_the_play_sheet():
    assert set(COLUMNS) <= RESERVED
    with pytest.raises(VocabularyError, match="word 'Yards to gain': a column of the play sheet has this name"):
        read_vocabulary('[words."Yards to gain"]\nkind = "number"')


BAD = {
    "words = 3": "'words' must hold a table for each word, like [words.formation]",
    "word = 3": "unknown entry 'word'; there is title, words",
    "title = 3": "'title' must be a text",
    "[words.a": "this is not valid TOML",
    "words.a = 1": "word 'a': it must be a table",
    "[words.a]": "it is 'one of a list' and its list is empty; give it values, or make it free text",
    '[words.a]\nkind = "list"': "word 'a': 'kind' must be one of 'one of a list', 'several of a list', 'number'",
    '[words.a]\nkind = "number"\nvalues = { x = [] }': "it is 'number' and has values; remove them",
    '[words.a]\nkind = "number"\nabout = "offence"': "word 'a': 'about' must be one of 'every snap'",
    '[words.a]\nkind = "number"\ncarried = "yes"': "word 'a': 'carried' must be true or false, not 'yes'",
    '[words.a]\nkind = "number"\ncarry = true': "word 'a': unknown entry 'carry'; there is kind, about",
    '[words.a]\nvalues = ["x"]': "word 'a': 'values' must be a table of values with their short forms",
    '[words.a]\nvalues = { x = "y" }': "word 'a': value 'x' must be a list of texts, like [\"t\"], not 'y'",
    '[words.a]\nvalues = { x = ["y"], z = ["y"] }': "'y' is spoken for 2 of its values; give one of them another form",
    '[words.a]\nvalues = { x = [], X = [] }': "value 'x' comes 2 times; remove the others",
    '[words.a]\nvalues = { "" = [] }': "value '' is empty; give it one",
    '[words.a]\nvalues = { "x, y" = [] }': "has a comma, a semicolon, a quotation mark or a control character",
    '[words.a]\nvalues = { x = ["!"] }': "its spoken form '!' must begin with a letter or a digit",
    '[words."a  b"]\nkind = "number"': "begins or ends with a space, or has two in a row; take them out",
    f'[words.{"a" * 61}]\nkind = "number"': "its name has 61 characters; at most 60",
    '[words.a]\nkind = "number"\n[words.A]\nkind = "number"': "word 'a' comes 2 times; rename one of them",
    '[words.a]\nkind = "number"\nfollows = "b"': "word 'a': 'follows' must be a list of rules",
    '[words.a]\nkind = "number"\nfollows = [{ of = "this play" }]': "'follows', rule 1: it must be a table that names",
    '[words.a]\nkind = "number"\nfollows = [{ word = "b" }]': "it follows from 'b', and there is no such word",
    '[words.a]\nkind = "number"\nfollows = [{ word = "a", of = "next" }]': "rule 1: 'of' must be one of 'this play'",
    '[words.a]\nkind = "number"\nfollows = [{ word = "a" }]': "it follows from 'a' of the same play, which follows",
    '[words.a]\nvalues = { x = [] }\n[words.b]\nvalues = { y = [] }\nfollows = [{ word = "a", values = { z = "y" } }]':
        "it follows from 'a' being 'z', which is not in that word's list",
    '[words.a]\nvalues = { x = [] }\n[words.b]\nvalues = { y = [] }\nfollows = [{ word = "a", values = { x = "z" } }]':
        "what would follow from 'a', 'z', is not in its list",
}


@pytest.mark.parametrize("text", BAD, ids=lambda text: text.replace("\n", " ")[:60])
def test_a_bad_definition_says_where_what_and_what_to_do(tmp_path, text):
    path = tmp_path / "ours.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(VocabularyError) as caught:
        load_vocabulary(path)
    assert str(caught.value).startswith(str(path))
    assert BAD[text] in str(caught.value)


def test_all_that_is_wrong_is_said_at_once():
    with pytest.raises(VocabularyError) as caught:
        read_vocabulary('[words.a]\n[words.down]\nkind = "number"', "ours")
    assert [problem.split(":")[1].strip() for problem in caught.value.problems] == ["word 'a'", "word 'down'"]


def test_files_that_are_none(tmp_path):
    for name, raw, reason in (("large.toml", b"#" * (LARGEST_FILE + 1), "it is larger than 1 MiB"),
                              ("bytes.toml", b"\xff\xfe\x00", "it is not UTF-8 text")):
        (tmp_path / name).write_bytes(raw)
        with pytest.raises(VocabularyError, match=reason):
            load_vocabulary(tmp_path / name)
    with pytest.raises(VocabularyError, match="it is not a file"):
        load_vocabulary(tmp_path, tmp_path)
    with pytest.raises(VocabularyError, match="it cannot be read"):
        load_vocabulary(tmp_path / "none.toml")
    with pytest.raises(VocabularyError, match="there is no such definition; known are bytes, default, large"):
        load_vocabulary("none", tmp_path)
