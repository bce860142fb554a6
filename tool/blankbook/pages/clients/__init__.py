"""The size charts that clients get."""
