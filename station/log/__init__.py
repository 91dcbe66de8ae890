"""The log: journal, records, integrity, replay."""
