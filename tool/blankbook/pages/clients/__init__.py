"""The size charts that clients get.

- `client_rows`: what may be known of a blank, named field by field
- `client_pages`: a page and a file for each chart, their list, and how points are measured
- `client_types`: what the templates get
"""
