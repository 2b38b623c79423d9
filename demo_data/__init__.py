"""An invented butcher's shop as plain CSV, to learn on and to test with; see its README.md."""
