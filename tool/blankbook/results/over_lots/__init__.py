"""The rounds of a blank as lots: their history, and where the next may lie."""
