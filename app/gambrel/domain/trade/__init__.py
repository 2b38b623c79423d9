"""What the book holds: catalogue, records, keys, days, prices in force; and how it is written."""
