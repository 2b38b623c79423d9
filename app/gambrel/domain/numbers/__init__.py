"""Weights, money and rates: exact, in whole units."""
