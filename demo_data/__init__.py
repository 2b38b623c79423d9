"""An invented shop in the plain-file form. No real people, shops or prices."""
