"""Suggest shots, moments and whistles in a source."""

from .survey import FilmSound, FoundShot, Suggested, Suggestion, Survey, cached_survey, film_sound, found_shots, survey

__all__ = ["FilmSound", "FoundShot", "Suggested", "Suggestion", "Survey", "cached_survey", "film_sound", "found_shots",
           "survey"]
