"""What the answers advise, why, and what to do next.

- `verdict`: the advice, its headline and reasons, the sizes that may be ordered
- `next_step`: the next thing to do, by what failed or is open
- `next_look`: the same where a twist or a grade is the question
- `cautions`: heat, chemicals, children, labels
"""
