"""The JSON Schemas, one per kind of file; words.schema.json is written from the vocabulary."""
