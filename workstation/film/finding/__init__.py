"""Suggest shots, moments and whistles in a source."""

from .survey import FoundShot, Suggested, Suggestion, Survey, cached_survey, found_shots, survey

__all__ = ["FoundShot", "Suggested", "Suggestion", "Survey", "cached_survey", "found_shots", "survey"]
