"""What the whole ledger teaches about each blank.

- `ledger_learning`: the spread between pieces, repeatability, the supplier's inspection
- `left_over`: what sizes, lots and colours leave of a blank's readings
- `measuring_studies`: what a study of several people and readings shows
- `stand_ins`: the vetted blanks that are nearest to a blank
"""
