"""The Tub: what trim stands free, and the blend that is being made of it."""
