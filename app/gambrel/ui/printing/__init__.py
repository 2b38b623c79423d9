"""Printing in the window: the real pages, the printers, the queue and the log."""
