"""Whether a blank may be ordered today, in which sizes, and why: what lists and page tops show.

- `newest_decision`: what a person decided last, by its own date
"""
