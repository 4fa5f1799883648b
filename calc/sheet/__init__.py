"""The blocks of the sheet."""
