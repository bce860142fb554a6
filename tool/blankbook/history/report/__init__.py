"""A review as text, Markdown, a web page or JSON, all from the same sections.

review_document: the sections of a review, in the order that a reviewer needs.
chart_sections: the sections about a supplier's sizing that moved.
sections: one section, and how it says lengths, counts and lists.
short_review: the sections that fit on one screen.
short_lines: a few lines for each blank, for the list of recent changes.
text_report: for a terminal.
markdown_report: for a code host, within its limits.
html_report: one page that loads nothing.
json_review: JSON data.
json_charts: JSON data of a chart that moved.
"""
