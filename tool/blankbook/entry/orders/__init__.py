"""Orders as they are given: a client's list in a table, and the order's own file.

client_list: a table with a row for each person, or with counts
list_columns: what each of its columns holds
order_file: the text of a new order
"""
