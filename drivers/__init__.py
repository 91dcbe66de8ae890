"""Bytes from real ports, and from bytes to readings."""
