"""The keys of the Tag room. Letters, digits and spaces belong to the entry line; everything else may act."""

from __future__ import annotations

from ...tagging.model import MomentKind, ShotKind
from ..keys import KeyMap

GROUP = "Tag"

MOMENTS = {
    MomentKind.SNAP: "[",
    MomentKind.DEAD_BALL: "]",
    MomentKind.FULL_WIDE: "\\",
    MomentKind.SIGNAL: "'",
    MomentKind.CHAINS_SET: ";",
    MomentKind.RESULT_SHOWN: "/",
    MomentKind.CONFRONTATION: "{",
    MomentKind.CONFRONTATION_OVER: "}",
    MomentKind.CARE: ":",
    MomentKind.ANNOUNCEMENT: "!",
}
SHOT_KINDS = dict(zip(ShotKind, "1234567890", strict=True))

ACTIONS = (
    ("tag.commit", "Keep the play, go to the next shot", "Return", "Enter"),
    ("tag.commit_stay", "Keep the play, stay here", "Shift+Return", "Shift+Enter"),
    ("tag.clear", "Clear the line, back to the film's place", "Esc"),
    ("tag.take", "Take what is suggested", "="),
    ("tag.find", "Look through the film for shots and moments", "F6"),
    ("tag.toggle", "Play or pause", "Space", "Ctrl+Space"),
    ("tag.frame_back", "One picture back", "Left", "Alt+Left"),
    ("tag.frame_ahead", "One picture ahead", "Right", "Alt+Right"),
    ("tag.back", "Five seconds back", "Ctrl+Left"),
    ("tag.ahead", "Five seconds ahead", "Ctrl+Right"),
    ("tag.slower", "Slower", "Ctrl+Down"),
    ("tag.faster", "Faster", "Ctrl+Up"),
    ("tag.previous_shot", "Previous shot", "PgUp"),
    ("tag.next_shot", "Next shot", "PgDown"),
    ("tag.previous_play", "Previous play", "Up"),
    ("tag.next_play", "Next play", "Down"),
    ("tag.to_snap", "To the snap", "Home"),
    ("tag.loop", "Play this shot round and round", "Ctrl+L"),
    ("tag.remove_moment", "Remove the nearest moment", "Ctrl+Backspace"),
    ("tag.insert_play", "A play is missing before this one", "Ins"),
    ("tag.play_earlier", "This play comes one earlier", "Alt+Up"),
    ("tag.play_later", "This play comes one later", "Alt+Down"),
    ("tag.remove_play", "Remove this play", "Ctrl+Delete"),
    ("tag.film_play", "This shot films this play", "Ctrl+F"),
    ("tag.unfilm_play", "No shot films this play", "Ctrl+Shift+F"),
    ("tag.situation", "Set the situation by hand", "F2"),
    ("tag.heading", "Teams, rules, date", "F3"),
    ("tag.sheet", "Take in a play sheet", "F4"),
    ("tag.new_shot", "A shot begins here", "Ctrl+B"),
    ("tag.split_shot", "Cut the shot in two here", "Ctrl+K"),
    ("tag.merge_shots", "Join the shot with the next", "Ctrl+J"),
    ("tag.remove_shot", "Remove the shot", "Ctrl+Shift+Delete"),
    ("tag.files_as_shots", "Every file is a shot", "Ctrl+Shift+B"),
    ("tag.confirm_shots", "All found shots are right", "Ctrl+Shift+K"),
)

# These keys type or move in the line while it holds text, and act while it is empty.
ONLY_WHEN_EMPTY = {"tag.toggle": ("Space",), "tag.frame_back": ("Left",), "tag.frame_ahead": ("Right",),
                   "tag.to_snap": ("Home",), "tag.remove_moment": ("Ctrl+Backspace",), "tag.back": ("Ctrl+Left",),
                   "tag.ahead": ("Ctrl+Right",), "tag.remove_play": ("Ctrl+Delete",)}
# Elsewhere the window's undo waits until the line is empty.
LINE_FIRST = {"desk.undo", "desk.redo"}


def moment_action(kind: MomentKind) -> str:
    return f"tag.mark.{kind.value.replace(' ', '_')}"


def shot_action(kind: ShotKind) -> str:
    return f"tag.shot.{kind.value.replace(' ', '_')}"


def name_actions(keys: KeyMap) -> None:
    for kind, key in MOMENTS.items():
        keys.action(moment_action(kind), f"Mark: {kind.value}", GROUP, key)
    for id, text, *defaults in ACTIONS:
        keys.action(id, text, GROUP, *defaults)
    for kind, digit in SHOT_KINDS.items():
        keys.action(shot_action(kind), f"This shot: {kind.value}", GROUP, f"Alt+{digit}")
