"""The `add` commands: suppliers, styles and size charts.

add: the group, and a supplier
add_style: a style with its size chart; style_steps: what it does, step by step
style_questions: what `add style` asks; an answer stays until the file is written
add_chart: a newer chart of a style
chart_input: a size chart from a file or from standard input
chart_options: the flags that say how a size chart is read
known_names: the suppliers and styles of a ledger, by name
trial_check: whether a new file would pass its check
"""
