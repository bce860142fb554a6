"""A delivery: its sampling plan, what is bad in it, and how it compares with the approved round.

- `inspection`: the bad pieces, the plan, the outcome
- `severities`: how strictly a supplier is inspected, delivery after delivery
- `against_approved`: its measured pieces beside the approved round
- `reference_round`: which round that is
- `plans_by_size`: the shop's plans, by size of delivery
- `delivery_words`, `json_deliveries`: all of it in words and as data
"""
