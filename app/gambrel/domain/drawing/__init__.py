"""Body maps, marks, colour tokens and contrast, without a toolkit."""
