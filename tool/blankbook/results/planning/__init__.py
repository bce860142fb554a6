"""What so many pieces can show, and what they leave open."""
