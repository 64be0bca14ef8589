"""The whole game on one strip."""
