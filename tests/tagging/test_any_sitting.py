"""Random sittings: whatever is done, undone, redone and reopened, the file holds what memory holds."""

from __future__ import annotations

import shutil
import tempfile
from pathlib import Path
from random import Random

from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

from tests.tagging.builders import full_game
from tests.tagging.sitting import InMemory, digest, random_operation
from workstation.tagging.exchange import from_document, to_document
from workstation.tagging.gamefile import GameFile, InvalidOperation
from workstation.tagging.model import Game


class Sitting(RuleBasedStateMachine):
    @initialize(full=st.booleans())
    def begin(self, full):
        self.folder = Path(tempfile.mkdtemp(dir="/dev/shm" if Path("/dev/shm").is_dir() else None))
        start = full_game(self.folder) if full else Game(film=full_game(self.folder).film)
        self.file = GameFile.create(self.folder / "a.game", game=start)
        self.memory = InMemory(start)
        self.start = self.memory.game

    @rule(seed=st.integers(0, 2**32), often=st.integers(1, 4))
    def act(self, seed, often):
        choose = Random(seed)
        for _ in range(often):
            operation = random_operation(choose, self.file.game, self.folder)
            before, words = self.file.game, (self.file.can_undo, self.file.can_redo)
            try:
                self.memory.do(operation)
            except InvalidOperation as expected:
                try:
                    self.file.do(operation)
                except InvalidOperation as error:
                    assert error.problems == expected.problems
                    assert self.file.game is before
                    assert (self.file.can_undo, self.file.can_redo) == words
                else:
                    raise AssertionError(f"{operation} went through, but {expected}")
            else:
                change = self.file.do(operation)
                assert bool(change.edits) == (digest(before) != digest(self.file.game))

    @rule()
    def undo(self):
        assert bool(self.file.undo()) == self.memory.undo()

    @rule()
    def redo(self):
        assert bool(self.file.redo()) == self.memory.redo()

    @rule()
    def reopen(self):
        path = self.file.path
        self.file.close()
        self.file = GameFile.open(path)

    @invariant()
    def holds_what_memory_holds(self):
        if hasattr(self, "file"):
            assert self.file.game == self.memory.game
            assert (self.file.can_undo, self.file.can_redo) == (self.memory.can_undo, self.memory.can_redo)

    def teardown(self):
        if hasattr(self, "file"):
            while self.memory.undo():
                pass
            while self.file.undo():
                pass
            assert self.file.game == self.start
            while self.memory.redo():
                pass
            while self.file.redo():
                pass
            assert self.file.game == self.memory.game
            path = self.file.path
            self.file.close()
            with GameFile.open(path, read_only=True) as again:
                assert again.game == self.memory.game
            assert from_document(to_document(again.game, self.folder), self.folder) == again.game
            shutil.rmtree(self.folder)


TestSitting = Sitting.TestCase
TestSitting.settings = settings(
    max_examples=40, stateful_step_count=25, deadline=None, suppress_health_check=list(HealthCheck)
)
