"""The bulk order in money: what to buy, what it costs, what is at risk, what a look is worth."""
