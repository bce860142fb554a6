"""Files and what stands written in them: positions, schemas, findings."""
