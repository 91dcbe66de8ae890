"""The dive station monitor."""
