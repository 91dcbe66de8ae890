"""Schedule, ascent, oxygen, surface decompression, repetitive dives, altitude, omitted stops, gas model."""
