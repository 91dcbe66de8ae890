"""What really happens in the dive that never happened; no gauge, no line, no clock."""
