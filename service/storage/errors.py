"""What can go wrong with the database, in the words of those who must act on it."""


class CannotOpen(Exception):
    """The database may not be used; the message says what to change."""


class Unavailable(Exception):
    """The database did not answer in time or refused the work; nothing is known to have been stored. Try again."""
