"""The Rail: what hangs, what it weighs now, and what must be broken first."""
