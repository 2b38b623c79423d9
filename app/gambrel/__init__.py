"""Gambrel: what a carcass cost, what came off it, and what every cut must sell for."""

__version__ = "0.1.0"
