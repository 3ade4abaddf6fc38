"""The errors that a user may meet. Every message says what is wrong, where, and what to do about it.

The command line prints these as plain sentences; any other exception is a fault of the program itself.
"""


class PreflareError(Exception):
    """What was asked could not be done with these data. Ends a command with exit code 1."""

    exit_code = 1


class UsageError(PreflareError):
    """The command or season.toml was written wrongly. Ends a command with exit code 2."""

    exit_code = 2
