"""Safe edits of what people wrote: only the bytes that are meant, and whole or not at all."""
