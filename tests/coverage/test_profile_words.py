"""A crew's words, written as a profile of their own."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from workstation.coverage.profile import ProfileError, load_profile
from workstation.coverage.profile_words import listed_words, read_words, save_words


def test_words_are_added_changed_and_dropped_and_the_rest_stays(tmp_path):
    default = load_profile()
    words = {"crooked": "Level it.", **{word: advice for word, advice in default.remarks.items() if word != "soft"}}
    name = save_words("default", words, ("splendid",), "Kim & Alex", tmp_path)
    assert name == "words_of_kim_alex"
    own = load_profile(name, [tmp_path])
    assert list(own.remarks.items()) == list(words.items()) and own.praise == ("splendid",)
    assert own.rules == default.rules and own.weights == default.weights and own.viewer == default.viewer
    assert own.title == "Default, words of Kim & Alex"


def test_what_was_written_here_is_written_anew_and_keeps_its_name(tmp_path):
    name = save_words("default", {"a": ""}, (), "Kim", tmp_path)
    again = save_words(name, {"b": "do", "too dark": "x"}, ("yes",), "Kim", tmp_path)
    assert again == name and len(list(tmp_path.iterdir())) == 1
    own = load_profile(name, [tmp_path])
    assert own.remarks == {"b": "do", "too dark": "x"} and own.title == "Default, words of Kim"


def test_a_profile_written_by_hand_is_left_alone(tmp_path):
    hand = tmp_path / "riverside.toml"
    text = 'title = "Riverside"\nbased_on = "default"\n[remarks]\n"bumped" = "Sit."\n[viewer]\nunsure_below = 0.9\n'
    hand.write_text(text, encoding="utf-8")
    for profile in ("riverside", str(hand)):
        name = save_words(profile, {"bumped": "Stand.", "late": ""}, (), "", tmp_path)
        own = load_profile(name, [tmp_path])
        assert own.remarks == {"bumped": "Stand.", "late": ""} and own.viewer.unsure_below == 0.9
        assert own.title == "Riverside, words of the crew"
    assert hand.read_text(encoding="utf-8") == text and name == "our_words_2"


@pytest.mark.parametrize(("lines", "why"), [
    ("shaky\nShaky: hold it", "line 2: 'Shaky' is in the list already"),
    (": only advice", "line 1: an advice needs its word"), ("x" * 61, "at most 60 characters"),
])
def test_a_list_that_cannot_be_kept_says_which_line(lines, why):
    with pytest.raises(ProfileError, match=why):
        read_words(lines)


def test_a_word_cannot_be_both(tmp_path):
    with pytest.raises(ProfileError, match="praise and something to mend"):
        save_words("default", {"Steady": ""}, ("steady",), "", tmp_path)
    assert list(tmp_path.iterdir()) == []


def test_a_lost_profile_is_an_error_and_writes_nothing(tmp_path):
    with pytest.raises(ProfileError, match="no profile 'gone'"):
        save_words("gone", {}, (), "", tmp_path)
    assert list(tmp_path.iterdir()) == []


@settings(max_examples=60, deadline=None)
@given(st.dictionaries(st.text(min_size=1, max_size=20), st.text(max_size=30), max_size=5))
def test_any_words_come_back_as_they_were_typed(tmp_path_factory, words):
    try:
        wanted = read_words("\n".join(f"{word}: {advice}" for word, advice in words.items()))
    except ProfileError:
        return
    assert read_words(listed_words(wanted)) == wanted
    folder = tmp_path_factory.mktemp("words")
    try:
        name = save_words("default", wanted, (), "", folder)
    except UnicodeEncodeError:
        return      # half a character
    assert load_profile(name, [folder]).remarks == wanted
