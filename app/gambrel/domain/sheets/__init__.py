"""The figures of the day and the week, ready to be drawn."""
