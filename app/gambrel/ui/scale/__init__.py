"""The scale: set it up, and see what it sends beside what is understood."""
