"""The one way in which the scripts say no."""


class Refused(Exception):
    """Something stands in the way; the message is a sentence for the user with what to do next."""
