"""Finding what a person would otherwise have to look for: shots, moments, whistles. Suggestions, all of them."""

from .survey import FilmSound, FoundShot, Suggested, Suggestion, Survey, film_sound, found_shots, kept_survey, survey

__all__ = ["FilmSound", "FoundShot", "Suggested", "Suggestion", "Survey", "film_sound", "found_shots", "kept_survey",
           "survey"]
