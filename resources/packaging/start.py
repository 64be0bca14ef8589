"""Where the packed application begins: the desk or a command, or a part of the program in a process of its own."""

import multiprocessing
import runpy
import sys


def begin() -> int:
    """Run what the arguments ask for. ``-m MODULE`` runs a module, as Python would: filming the demo works that way."""
    multiprocessing.freeze_support()
    if len(sys.argv) > 2 and sys.argv[1] == "-m":
        module = sys.argv[2]
        sys.argv[:] = sys.argv[2:]
        runpy.run_module(module, run_name="__main__")
        return 0
    from workstation.__main__ import main

    return main()


if __name__ == "__main__":
    sys.exit(begin())
