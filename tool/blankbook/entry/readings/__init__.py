"""Reading a table of readings that a shop kept elsewhere."""
