"""What people do with the book: one act, one transaction, one value back."""
