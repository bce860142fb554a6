"""From valid, typed trees to records."""
