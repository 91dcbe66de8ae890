"""The log: journal, records, integrity, replay.

`journal.Journal` writes, `reading.LogReader` reads, `integrity.check` checks, `resuming` takes up what a
crash left. The layout of the file stands in `schema`, the chain in `records`.
"""
