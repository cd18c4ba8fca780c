"""Fettlebook: a workshop's own book of procedures, with its numbers worked out and traced to a source."""

__version__ = "0.1.0"
