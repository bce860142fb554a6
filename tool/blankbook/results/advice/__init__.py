"""What the answers advise, and what to do next."""
