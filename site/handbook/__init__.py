"""The handbook, a Markdown file a topic: ours alone, and shown in every shop's own site."""
