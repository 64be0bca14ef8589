"""The keys of the Review room."""

from __future__ import annotations

from ..keys import KeyMap

GROUP = "Review"

ACTIONS = (
    ("review.next", "Next finding", "N"),
    ("review.previous", "Previous finding", "P"),
    ("review.again", "Play the passage again", "R"),
    ("review.agree", "Agree with the finding", "A"),
    ("review.waive", "Waive the finding, with a reason", "W"),
    ("review.comment", "Comment on the finding", "C"),
    ("review.undecide", "Take the decision back", "U"),
    ("review.toggle", "Play or pause", "Space"),
    ("review.frame_back", "One picture back", "Left"),
    ("review.frame_ahead", "One picture ahead", "Right"),
    ("review.second_back", "One second back", "Shift+Left"),
    ("review.second_ahead", "One second ahead", "Shift+Right"),
    ("review.slower", "Slower", ","),
    ("review.faster", "Faster", "."),
    ("review.loop", "Play the passage round and round", "L"),
    ("review.draw", "Draw on the picture", "D"),
    ("review.arrow", "Draw an arrow", "1"),
    ("review.circle", "Draw a circle", "2"),
    ("review.freehand", "Draw a line by hand", "3"),
    ("review.text", "Write words on the picture", "4"),
    ("review.hold", "How long a drawing stays", "H"),
    ("review.change", "Change the newest drawing here", "E"),
    ("review.rub_out", "Remove the newest drawing here", "Backspace"),
    ("review.compare", "Two plays side by side", "B"),
    ("review.to_snap", "Both to the snap", "Home"),
    ("review.earlier_play", "Compare with an earlier play", "J"),
    ("review.later_play", "Compare with a later play", "K"),
    ("review.note", "Type a note at this moment", "T"),
    ("review.find_note", "Find a note", "/"),
    ("review.change_note", "Change the chosen note", "F2"),
    ("review.remove_note", "Remove the chosen note", "Delete"),
    ("review.summary", "The summary of the game", "S"),
    ("review.large", "Large type for a wall screen", "G"),
    ("review.leave", "Back to the film", "Esc"),
)


def name_actions(keys: KeyMap) -> None:
    for id, text, *defaults in ACTIONS:
        keys.action(id, text, GROUP, *defaults)
