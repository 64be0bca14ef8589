"""Yards from real clips, which are not kept here: the spots of ``tests/outside/real_film/yard_lines`` in the
folder that the environment's REAL_FILM names. Run: REAL_FILM=FOLDER python -m tests.bench yards_of_real_film"""

from __future__ import annotations

import os
import sys
import tempfile
from pathlib import Path

from tests.outside.real_film.yards import main

if __name__ == "__main__":
    if "REAL_FILM" not in os.environ:
        sys.exit("set REAL_FILM to the folder of the clips")
    with tempfile.TemporaryDirectory() as cache:
        os.environ["FILM_WORKSTATION_CACHE"] = cache
        main(Path(os.environ["REAL_FILM"]))
