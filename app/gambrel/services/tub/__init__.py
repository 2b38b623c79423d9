"""What people do at the tub: see what trim stands free, blend it, and write recipes down."""
