"""Tables of cells from pasted text, separated values and spreadsheets.

separated_text: cells between commas, semicolons, tabs, bars or wide gaps
spaced_text: cells with one space between them, as pasted from print
spreadsheet_cells: what one cell of a spreadsheet shows
spreadsheets: the sheets of a spreadsheet as tables
table_cells: cells with addresses, and tables of them
table_dates: dates in cells, also those that a spreadsheet made of fractions
table_files: what kind of file it is
"""
