"""A dive that never happened, as bytes on a line."""
