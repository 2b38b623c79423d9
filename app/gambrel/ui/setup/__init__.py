"""Setup: what a station and its shop are told once."""
