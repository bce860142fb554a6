"""Versions of the ledger in git: commits, files and their bytes."""
