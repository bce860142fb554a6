"""Rules between the values of a file, and between files; each yields faults.

A rule yields a `Fault` with the path to the value. It is named for the fault, and its name reads
well after "found". `records.load_ledger` calls each family. In a module, `of_round` has the rules
of a round, `of_style` those of a style, and so on.

chart_rules: sizes that grow, dates in order, a chart for each round
date_rules: dates that run backwards, or that cannot be
decision_rules: approvals without anything to rest on
delivery_rules: sizes, counts, and deliveries that are named
expected_readings: what a reading should be, by its siblings or the chart
fabric_rules: a mass per unit area that no shirt has
grade_rules: decoration tests, temperatures, twists
name_rules: names of files against what stands in them
order_rules: counts, days and currencies of orders
photo_rules: photos that are missing or cannot be shown
piece_rules: sizes, colours, pieces that are there twice, stages in order
price_rules: prices and terms of supply in order, breaks that can be
reading_rules: readings that look like a slip of the tape or the pen
scale_rules: readings all the way around, in the other unit, or of no T-shirt
slip_guesses: which slip it may have been
study_rules: studies that cannot be analysed
whole_delivery: all rules of one delivery together
whole_order: all rules of one order together
"""
