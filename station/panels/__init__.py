"""The windows: a process of its own that draws states and submits operator events."""
