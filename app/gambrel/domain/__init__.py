"""The rules of the trade: frozen values and pure functions. No Qt, no SQL, no files, no clock."""
