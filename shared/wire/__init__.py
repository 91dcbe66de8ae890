"""Wire formats: bytes to fields and back, without input or output."""
