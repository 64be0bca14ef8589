"""Game-film review workstation: tag a game once, and everything else follows."""

__version__ = "0.1.0"
