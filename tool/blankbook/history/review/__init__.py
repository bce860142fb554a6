"""Comparing two versions of a ledger: what to read, what to judge again."""
