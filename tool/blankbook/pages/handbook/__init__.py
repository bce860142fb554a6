"""The handbook in the shop's site.

- `handbook_pages`: its table of contents, and a page of Markdown for each topic
- `handbook_markup`: what Markdown has no word for
"""
