"""What follows from the records: pure functions, no file, clock or terminal.

- `judge_blank`: one blank through every check to its verdict
- `result_types`, `spread_types`, `quantities`: what every room shares
- `evidence`: which pieces answer which question
- `comparable_lines`: which lengths may be compared, by the line along which they were measured
- `piece_spread`, `limits`: how far readings and pieces can be trusted
- `uncertainty_budget`: what the uncertainty of a reading is made of
- `client_sizes`: what a client may know of the sizes
- `checks`: the questions asked of every blank; `worked`: their examples on the method page
- `causes`: why a round looks the way it does, and what to buy to tell
- `over_lots`, `deliveries`: lots on one axis of time; a delivery and its inspection
- `learning`: what the whole ledger teaches about each blank
- `planning`: what so many pieces can show
- `ordering`: the bulk order in money
- `advice`, `standing`: what the answers advise; what holds for a blank today
- `methods`: statistics that need no records, each with its source
- `number_words`, `json_results`: all of it in words and as data

`make_case` gathers what the checks may look at, and `chart_values` says what a chart asks.
"""
