"""Alarms: what is watched, within what limits, and how each alarm stands."""
