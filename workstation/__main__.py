"""``python -m workstation``: the desk, or the same work without a screen."""

from __future__ import annotations

import sys
from pathlib import Path


def main(argv: list[str] | None = None) -> int:
    """Run a command, or open the desk (on a game file, if one is named). Returns the exit status."""
    argv = sys.argv[1:] if argv is None else argv
    from .commands import NAMES, run

    if argv and (argv[0] in NAMES or argv[0].startswith("-")):
        return run(argv)
    if len(argv) > 1:
        return run(argv)        # not a command: let it say which there are
    game = Path(argv[0]) if argv else None
    if game is not None and not game.exists():
        if game.suffix:
            print(f"{game} is not there; name a game file, or a command: {', '.join(NAMES)}", file=sys.stderr)
            return 2
        return run(argv)
    from .desk.app import run as open_desk

    return open_desk(game)


if __name__ == "__main__":
    sys.exit(main())
