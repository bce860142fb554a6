"""Methods that results are built on: pure statistics, without the ledger's records."""
