"""A blank over time: its page, and what other pages show of it.

- `over_time_page`: every lot on one axis, with the charts and decisions that held
- `chart_version_table`: the supplier's charts, one after the other
- `lots_table`: how far each round was from its chart
- `earlier_parts`: which earlier rounds and deliveries stand on which page
- `history_types`: what the templates get
"""
