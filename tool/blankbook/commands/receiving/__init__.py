"""The `receive` command, and how a delivery is looked over.

receive: a delivery as it was counted: what to look at, and its file
counted: what came and what was bought, by flags or asked for
look_over: one fault a key, each on disk before the next piece
found_faults: looked at and faulty, by flags
inspected_now: how a delivery stands by its plan
"""
