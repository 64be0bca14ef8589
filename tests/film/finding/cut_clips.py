"""Clips as programs leave them that cut without encoding: they begin inside a group of pictures."""

from __future__ import annotations

from pathlib import Path

import av


def cut_inside_group(source: Path, to: Path, drop: int) -> None:
    """Copy the packets of an MP4 but the first ``drop``, and call the first that is left a keyframe, which it is not.

    Decoders then begin there, and lack what its pictures lean on, up to the next keyframe."""
    with av.open(str(source)) as given, av.open(str(to), "w") as made:
        stream = given.streams.video[0]
        copy = made.add_stream_from_template(stream)
        base = None
        for count, packet in enumerate(given.demux(stream)):
            if packet.dts is None or count < drop:
                continue
            if base is None:
                base = packet.dts
                packet.is_keyframe = True
            packet.pts, packet.dts = packet.pts - base, packet.dts - base
            packet.stream = copy
            made.mux(packet)
