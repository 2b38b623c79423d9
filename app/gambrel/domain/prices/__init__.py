"""Margins over a whole body, price endings, codes and tickets."""
