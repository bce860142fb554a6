"""The comparison of two versions, and the last commits by what they mean.

make_review: the review between any two versions.
compare_versions: both versions read as far as needed, judged and compared.
read_plan: which blanks must be read, and what every blank contributes.
read_blanks: the records and blanks of both versions.
judge_versions: where the blanks that differ stand at both versions.
review_types: what a review holds.
recent_commits: the last commits and what each means.
commit_walk: the walk back over commits, with what was held before and after each.
"""
