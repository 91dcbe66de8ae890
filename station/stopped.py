"""What ends a command without being anybody's mistake in its arguments: exit status 3."""


class StoppedByFault(Exception):  # noqa: N818 - what happened, in words
    """The command cannot go on; the message says what and where."""
