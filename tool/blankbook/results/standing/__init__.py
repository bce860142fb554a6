"""Whether a blank may be ordered today, in which sizes, and why: what lists and page tops show.

- `standing_types`: the standing, its reasons and what it leaves out
- `make_standing`: the rules put together, the lowest ceiling first
- `standing_rules`: the table of the rules, which the method page prints
- `base_rules`: what a person decided, or what the evidence says without a decision
- `evidence_rules`: what fails in spite of a decision, or was measured since
- `later_rules`: charts, lots, deliveries and claims that came later
- `rule_types`, `standing_facts`: what a rule is, what it looks at, and what it finds
- `newest_decision`: what a person decided last, by its own date
- `later_lots`: each later lot against the approved one
- `sound_sizes`: the sizes that the evidence bears out, and those that are alike
- `fail_clauses`, `size_words`, `washed_words`: what failed, sizes, days and washing in plain words
- `json_standing`: the same as data
- `offer_words`: which of two sizes that are alike may be offered
- `next_action`: the one thing to do next
"""
