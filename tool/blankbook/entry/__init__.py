"""What happens at the table: readings as they are typed, and what to expect of them."""
