"""Reading a size chart as a supplier wrote it.

chart_cells: one cell: a length, a range, a length with its tolerance
chart_columns: the rows of sizes, the columns of points, the unit
chart_headings: which point, size or tolerance a heading means
chart_layout: where sizes and points stand in a table
chart_points: the lengths of each point, flat or all the way around
chart_summary: what was understood, for a person to compare with the original
chart_tolerances: how far a piece may be from each length, wherever the chart says it
heading_words: the words of headings in five languages
own_chart: the sizes of an approved round as a chart of the shop's own
read_chart: the whole chart, from tables
size_chart: the chart that was understood, remarks, and what a person must say
size_labels: what stands on a tag, and how sizes are ordered
"""
