"""Filling a round: what was typed, what to expect, and where it goes in the file."""
