"""Paper: builders that take plain values and give back the bytes of a document."""
