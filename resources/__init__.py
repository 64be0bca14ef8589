"""Data laid into the package: rulebooks, profiles, schemas, guides."""
