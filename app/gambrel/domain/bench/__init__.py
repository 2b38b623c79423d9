"""The rail, the block and the tub: what hangs, what lies there, what is doubtful."""
