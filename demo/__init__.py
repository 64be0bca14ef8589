"""The demo: an invented game, its script, and the film drawn from it."""
