"""The questions asked of every blank: a module each, and all of them in order."""
