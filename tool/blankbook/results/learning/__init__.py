"""What the whole ledger teaches about each blank.

- `ledger_learning`: the spread between pieces, repeatability, the supplier's inspection
- `measuring_studies`: what a study of several people and readings shows
- `stand_ins`: the vetted blanks that are nearest to a blank
"""
