"""A delivery: its plan, how it fares, and what it is held against."""
