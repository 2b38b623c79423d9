"""The world outside the window: scales and printers."""
