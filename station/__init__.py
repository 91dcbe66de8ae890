"""The dive station monitor."""

__version__ = "0.2.0"
