"""The pages of one blank and their tables."""
