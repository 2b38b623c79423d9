"""An invented butcher's shop as plain CSV: a fortnight of trade to learn on and to test with. See README.md."""
