"""A round while it is filled: what is typed, what to expect of it, and where it goes.

expected_lengths: what a reading should be, and what is said at once when it is not
filled_round: a round's file at one stage
round_positions: where in the file a value of a piece at a stage belongs
round_template: a planned round as texts and gaps, for a page without a server
stages: when a piece is looked at, and what is looked at then
typed_grades: grades and masses as they are typed
typed_lengths: lengths as they are typed, in few keys
"""
