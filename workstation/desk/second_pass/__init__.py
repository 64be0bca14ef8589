"""The sheet of all plays in the desk: a second pass over a game, cell by cell, with the picture beside it."""
