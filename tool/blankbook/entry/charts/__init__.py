"""Reading a size chart as a supplier wrote it."""
