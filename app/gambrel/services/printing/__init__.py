"""Printing: what can be printed, on which paper, the queue in the book, and the log."""
