"""The keys of the Sequence room."""

from __future__ import annotations

from ..keys import KeyMap

GROUP = "Sequence"

ACTIONS = (
    ("sequence.find", "Find words", "/"),
    ("sequence.clear", "Ask for all plays again", "Esc"),
    ("sequence.results", "To the plays found", "F"),
    ("sequence.chips", "To the chips", "C"),
    ("sequence.add", "Add the chosen play", "Return", "Enter"),
    ("sequence.add_with_before", "Add the chosen play and the two before it", "Shift+Return"),
    ("sequence.add_all", "Add all plays found", "Ctrl+Return"),
    ("sequence.items", "To the sequence", "S"),
    ("sequence.earlier", "Move the play earlier in the sequence", "Alt+Up"),
    ("sequence.later", "Move the play later in the sequence", "Alt+Down"),
    ("sequence.remove", "Take the play out of the sequence", "Delete"),
    ("sequence.in_earlier", "Begin one picture earlier", "Q"),
    ("sequence.in_later", "Begin one picture later", "W"),
    ("sequence.out_earlier", "End one picture earlier", "E"),
    ("sequence.out_later", "End one picture later", "R"),
    ("sequence.toggle", "Play or pause", "Space"),
    ("sequence.frame_back", "One picture back", ","),
    ("sequence.frame_ahead", "One picture ahead", "."),
    ("sequence.through", "Play the sequence through", "P"),
    ("sequence.new", "New sequence", "N"),
    ("sequence.delete", "Delete the sequence", "Ctrl+Delete"),
    ("sequence.export", "Export the sequence", "X"),
)


def name_actions(keys: KeyMap) -> None:
    for id, text, *defaults in ACTIONS:
        keys.action(id, text, GROUP, *defaults)
