"""Game-film review workstation: tag a game once, and everything else follows."""

from pathlib import Path

__version__ = "0.1.0"

# In a checkout `resources` and `demo` lie beside this package, in a wheel inside it;
# this makes them importable as workstation.resources and workstation.demo in both.
_checkout = Path(__file__).parent.parent
if (_checkout / "resources" / "rulebooks").is_dir():
    __path__.append(str(_checkout))
