"""What so many pieces can show, and what they leave open.

- `can_show`: the newest round, or what might be bought
- `approval`: how often a style would be approved, by trying it out
- `left_open`: the share that may be bad although every piece was good
- `planned_rounds`: rounds that are planned and not measured yet
- `sample_cost`: what samples cost by the newest prices
- `json_planning`: all of it as data for the JSON
"""
