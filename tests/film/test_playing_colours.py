"""A playing picture has the colours of the same picture at rest, on every player that there is."""

from __future__ import annotations

import subprocess

import numpy as np
import pytest

from tests.film.test_playback import engine, pump
from workstation.film.film import Film
from workstation.film.playback import Playback
from workstation.film.probe import probe

#: name -> matrix and range of the numbers, size, the encoder's pixels and tags
KINDS = {
    "HD tagged BT.601": ("bt601", "limited", "128x720", "yuv420p", ["-colorspace", "smpte170m"]),
    "SD tagged BT.709": ("bt709", "limited", "192x144", "yuv420p", ["-colorspace", "bt709"]),
    "HD that says nothing": ("bt709", "limited", "128x720", "yuv420p", []),
    "full range": ("bt601", "full", "192x144", "yuvj420p", ["-color_range", "pc"]),
    "BT.2020 in 10 bit": ("bt2020", "limited", "192x144", "yuv420p10le", ["-colorspace", "bt2020nc"]),
}
NEAR = 4        # of 255: a range is converted, and ten bits are cut to eight, in two ways


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("player", ["vlc", "qt", "none"])
def test_playing_and_resting_pictures_have_the_same_colours(player, kind, tmp_path, request):
    if player == "qt":
        request.getfixturevalue("qapp")
    matrix, reach, size, pixels, tags = KINDS[kind]
    path = tmp_path / "bars.mp4"
    subprocess.run(["ffmpeg", "-y", "-loglevel", "error", "-f", "lavfi", "-i",
                    f"pal75bars=size={size}:rate=25:duration=4",
                    "-vf", f"scale=out_color_matrix={matrix}:out_range={reach},format={pixels}", "-c:v", "libx264",
                    "-preset", "ultrafast", "-crf", "4", *tags, str(path)], check=True)
    resting, playing = [], []
    playback = Playback(engine(player), on_picture=lambda picture, exact: (resting if exact else playing).append(
        picture.rgb().astype(int)))
    try:
        playback.load(Film((probe(path, "s"),)))
        for wanted, act in ((resting, playback.play), (playing, playback.pause)):
            for _ in range(4000):
                if wanted:
                    break
                pump()
            act()
    finally:
        playback.close()
    assert resting and playing
    tall, wide, _ = resting[0].shape
    at = np.ix_(range(tall // 4, tall * 3 // 4, 8), [wide * (2 * bar + 1) // 16 for bar in range(8)])
    assert np.abs(resting[0][at] - playing[-1][at]).max() <= NEAR
