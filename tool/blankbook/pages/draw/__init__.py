"""Charts drawn with matplotlib, from plain data alone."""
