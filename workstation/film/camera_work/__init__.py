"""The work of the camera, measured: steadiness, movement, level, focus, exposure, action, lens, sound.

Knows nothing of football: where a shot begins and ends and what it shows is said from outside. ``record`` looks at a
source once, ``passage`` says what a shot's span of it measures, the other modules hold a measure each.
"""
