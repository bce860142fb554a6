"""What happens at the table: readings as typed, tables and charts as given, new files.

charts: a size chart as a supplier wrote it
new: the texts of new files
orders: a client's list, and the text of an order
readings: a table of readings that was kept elsewhere
round: a round while it is filled
tables: cells from pasted text, separated values and spreadsheets
"""
