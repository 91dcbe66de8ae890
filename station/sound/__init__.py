"""The horn: tones as PCM, who plays them, and the thread that follows the core's wish. No Qt."""
