"""The pages of one blank and their tables.

- `blank_page`: the page itself; `earlier_page`: rounds and deliveries before the newest
- `standing_top`: what stands first; `topics`: the checks as a reader asks for them
- `check_tables`, `check_columns`: the answers of one check
- `round_tables`, `grade_tables`, `page_photos`: a round as it was written
- `delivery_tables`: what came, and how the next delivery is inspected
- `claims_table`: what the supplier says
- `budget_table`, `planning_table`, `replacements`: one table each
- `check_types`, `round_types`, `delivery_types`: what the templates get
"""
