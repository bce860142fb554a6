"""What must hold between values and between files. One module a family; a rule yields faults."""
