"""The Cabinet: what each cut costs and earns, its price, and its ticket."""
