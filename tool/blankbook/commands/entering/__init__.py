"""The `enter` command: readings at the table, from a list, and what is decided."""
