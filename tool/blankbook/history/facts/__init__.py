"""Records as single facts, and how the facts of two versions differ."""
