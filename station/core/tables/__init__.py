"""The printed tables as data, their notes, and the look-ups: equal or next, never between."""
