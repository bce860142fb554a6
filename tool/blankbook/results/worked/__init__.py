"""The worked examples of the method page; each is computed by what it explains.

- `all_worked`: the example of each check, by its key
- `…_worked`: the example of one check, `grades_worked` that of all checks of grades
- `rules_worked`: readings, causes, purchases and planning, which are no check of their own
- `example_blank`: the invented blank that they judge
- `working_lines`: the lines that they share

No check imports an example.
"""
