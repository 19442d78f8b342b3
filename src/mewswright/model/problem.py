"""The one exception that a person is meant to read.

A shell (command or page) prints its text as it stands and stops with exit code 2.
The text names the place, what was given, what is allowed and what to do.
"""


class Problem(Exception):
    """Input that cannot be used, said in a sentence for the keeper."""
