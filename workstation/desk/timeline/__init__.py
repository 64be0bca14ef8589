from .view import TimelineView

__all__ = ["TimelineView"]
