"""The book: tables, migrations, queries and backup. Knows the domain and nothing above it."""
