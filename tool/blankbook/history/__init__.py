"""What git knows about the ledger, and what a change of it means.

versions: commits, files and their bytes, as git has them.
facts: records as single facts, and how the facts of two versions differ.
moved: what follows from a difference: advice, charts, tolerances, clients' charts.
review: two versions compared, and the last commits.
report: a review as text, Markdown, a web page or JSON.
"""
