"""Statistics that need no records, each with its source.

- `conformity`, `tolerance_intervals`, `equivalence`: a value, a share, a change and its limits
- `gauge_study`, `variance_prior`: what varies, and by how much
- `control_charts`, `chart_constants`: lots over time
- `proportions`: shares of good and bad pieces
- `sampling_plans`, `sampling_tables`, `switching_rules`: inspection by attributes
"""
