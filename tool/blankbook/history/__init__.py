"""What git knows about the ledger: who wrote what when, and what a change means."""
