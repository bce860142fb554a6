"""The pages to measure with.

- `print_sheet`: a sheet to print and to write on
- `phone_page`: the page of a planned round or a counted delivery, for a phone
- `phone_file`: the same page as one file
"""
