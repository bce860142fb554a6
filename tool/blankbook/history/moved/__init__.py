"""What a change moves: advice, size charts, tolerances and what clients see.

blank_status: advice, decision, answers and clients' view of a blank at one version.
rule_changes: whether what every blank is judged by differs.
chart_grid: a size chart as cells.
chart_changes: a size chart against the one before it: cells, grade steps, tolerances.
chart_slips: what in a new chart looks like a slip of the supplier's pen.
uneven_grading: points whose grading became uneven or reversed.
chart_versions: a supplier's charts one after the other.
tolerance_margins: measured pieces against a chart that moved.
chart_effects: the review of a blank with all that rests on its charts.
client_changes: the size charts that clients get, before and now.
"""
