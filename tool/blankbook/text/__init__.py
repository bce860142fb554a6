"""Files and what stands written in them: bytes, nodes with positions, schemas, findings.

decoding: from bytes to characters; encodings, line ends, hidden characters
digests: one hash of several parts
findings: a fault with its path, a finding with its line, unreadable texts
grade_fault: the fault of a text that should be a grade
grade_schema: the definitions of grades and decoration for the schemas
handbook_text: the pages of the handbook, as they are shown
ledger_files: which files a ledger has, and their bytes
photo_files: what is wrong with a photo that a record names
schema_messages: what a schema finds, in words
schemas: the schemas, their validators, and the types that they give to texts
write_schemas: writes words.schema.json from the vocabulary
yaml_nodes: from characters to nodes, by the fast or the careful parser
yaml_slips: what the parser refuses, in words for the commonest slips
yaml_tree: from nodes to plain values, and the places of faults
writing: edits of what people wrote
"""
