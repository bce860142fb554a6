"""Safe edits of what people wrote: only the characters that are meant, and whole or not at all.

atomic_write: new files and replaced files, with locks; errors that leave the old file whole
edits: set, add or remove a value of a record, and prove the result
file_diff: what an edit would change, as a patch
held_folder: a folder held open, in which nothing is done through a link
scratch_folder: a folder for a while; what killed runs left is removed
text_changes: which characters an edit replaces
yaml_scalars: texts, lists and mappings as YAML on one line
yaml_spans: where each value begins and ends in a record's text
"""
