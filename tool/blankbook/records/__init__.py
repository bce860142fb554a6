"""What the shop wrote, typed: lengths, records, and the rules between them."""
