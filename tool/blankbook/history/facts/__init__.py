"""Records as single facts, and how the facts of two versions differ.

record_facts: everything that a record says, by its path.
file_differences: what became of a file: its changes, and which of them rewrite the past.
changed_slips: changed readings that look like a slip of the pen.
chart_sources: where a size chart comes from, and what of that is missing.
diff_text: a record as sorted lines, for git's own differences.
"""
