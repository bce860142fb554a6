"""What the whole ledger teaches about each blank."""
