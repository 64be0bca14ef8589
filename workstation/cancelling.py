"""How long work says that it was stopped, in every package."""


class Cancelled(Exception):
    """A person stopped a long piece of work; nothing half-written is left."""
