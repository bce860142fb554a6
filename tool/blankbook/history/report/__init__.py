"""A review in words and as data: terminal, Markdown, web page, JSON, short form."""
