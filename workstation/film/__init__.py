"""Film: sources, timestamps, decoding, frame indexes, shot and moment finding, playback."""
