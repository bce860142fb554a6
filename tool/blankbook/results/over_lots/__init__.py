"""The rounds of a blank as lots, all on one axis of time, and where the next may lie.

- `expected_lots`: where each lot is expected by those before it
- `lot_history`: the lots of a blank at one point, and which of them raise an alarm
- `lots_over_time`: all lots and points on one axis, with the charts that were in force
- `next_lot`: how much lots differ, and where the next may lie
- `next_lot_sizes`: the same for each size, with its tags, for orders of what will come
"""
