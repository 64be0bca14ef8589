"""Tags at random until somebody kills it, saying aloud what it is about to save and what is saved.

``going R P D``: about to save revision R, at position P of the history, after which the game's digest is D.
``done R``: the call returned; from here on revision R must survive anything.
"""

from __future__ import annotations

import sys
from pathlib import Path
from random import Random

from tests.tagging.sitting import digest, random_operation
from workstation.tagging import rules, store
from workstation.tagging.gamefile import GameFile, InvalidOperation
from workstation.tagging.records import GameDraft


def say(*words) -> None:
    print(*words, flush=True)


def foreseen(file: GameFile, operation) -> str | None:
    """Digest of the game after *operation*; None if it changes nothing or can't be done."""
    draft = GameDraft(file._records, file.game)
    try:
        operation.apply(draft)
    except InvalidOperation:
        return None
    edits = draft.edits()
    return None if not edits or rules.problems(draft.game, edits) else digest(draft.game)


def main(path: str, seed: str, journal: str, known: str) -> None:
    choose = Random(int(seed))
    states = known.split(",")  # digest at each position of the history
    if journal == "delete":
        store.JOURNAL = "DELETE"
    file = GameFile.open(path)
    say("ready", file.journal)
    revision, position = file._revision, file._position
    while True:
        what = choose.random()
        if what < 0.02:
            file.close()
            file = GameFile.open(path)
            continue
        if what < 0.15:
            if position == 0:
                continue
            say("going", revision + 1, position - 1, states[position - 1])
            file.undo()
            position -= 1
        elif what < 0.25:
            if not file.can_redo:
                continue
            say("going", revision + 1, position + 1, states[position + 1])
            file.redo()
            position += 1
        else:
            operation = random_operation(choose, file.game, Path(path).parent)
            if (after := foreseen(file, operation)) is None:
                continue
            say("going", revision + 1, position + 1, after)
            file.do(operation)
            position += 1
            del states[position:]
            states.append(after)
        revision += 1
        say("done", revision)


if __name__ == "__main__":
    main(*sys.argv[1:])
