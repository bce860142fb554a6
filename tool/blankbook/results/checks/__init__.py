"""The questions asked of every blank, a module each with one `CHECK`.

- `all_checks`: all of them, in the order of the pages
- `size_against_chart`, `grade_steps`, `mix_up`, `label`: sizes, the steps between them, their tags
- `piece_against_chart`, `spread_between_pieces`: single pieces, and how they differ
- `washing`, `washed_size`, `skew`: shrinkage, the size after it, the twist
- `colour`, `pilling`, `workmanship`, `wear`, `decoration`: grades by eye
- `least_grade`: what these five share: the least grade, its limits, its answer
- `fabric`: the mass of the cloth
- `lots`, `delivery`: the newest lot, and what was delivered
"""
