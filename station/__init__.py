"""The dive station monitor."""

__version__ = "0.1.0"
