"""The worked examples of the method page; each is computed by what it explains.

- `all_worked`: the example of each check, by its key
- `size_against_chart_worked`, `grade_steps_worked`, `mix_up_worked`, `label_worked`,
  `piece_against_chart_worked`, `spread_between_pieces_worked`: sizes, steps, tags and pieces
- `washing_worked`, `washed_size_worked`, `skew_worked`, `fabric_worked`: washing and the cloth
- `lots_worked`, `delivery_worked`: the newest lot, and what was delivered
- `grades_worked`: all checks of grades by eye
- `rules_worked`: readings, causes, purchases and planning, which are no check of their own
- `example_blank`: the invented blank that they judge
- `working_lines`: the lines that they share

No check imports an example.
"""
