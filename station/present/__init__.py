"""States to words, without Qt."""
