"""atlasgen turns a lake survey folder into a paged photo book and an offline photo atlas."""

__version__ = "0.1.0"
