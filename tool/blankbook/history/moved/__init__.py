"""What a change moves: charts, client charts, tolerances, rules, a blank's status."""
