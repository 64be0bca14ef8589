"""The season page: games on the shelf, the breakdown of their plays, the plays as film, and sequences over games."""
