"""What several commands need: errors, questions, the ledger, one blank, writing."""
