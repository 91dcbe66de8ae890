"""What ends a command without being anybody's mistake in its arguments: exit status 3."""


class StoppedByFault(Exception):  # noqa: N818 - what happened, in words
    """The command cannot go on; the message says what and where."""


class BadFileTold(Exception):  # noqa: N818 - what happened, in words
    """A file cannot be used, and the part of the program that read it has said why: exit status 2."""
