"""The plain-file form of a book: a folder with ``shop.toml`` and CSV files, read and written.

The form is described in DEVELOPERS.md and, by column, in `gambrel.services.folder.forms`.
"""
