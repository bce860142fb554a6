"""From valid, typed trees to records.

converters: which function converts which kind of file
convert_claims: suppliers, styles, charts, prices
convert_delivery: deliveries that were inspected
convert_grades: grades, twist, workmanship, wear, decoration tests
convert_order: bulk orders
convert_planned: rounds that are planned
convert_round: rounds of samples
convert_shared: dates, money, tapes and decisions
convert_shop: the shop's rules
convert_study: studies of measuring
tree_values: lengths and amounts, each with a fault where the text is none
valid_parts: the sound parts of a faulty file
"""
