"""The `import` command: readings, or a client's list, that were kept in a table elsewhere.

import_: the command
import_readings, import_list: what it does with readings, and with a client's list
table_input: the table, and what a person says about its columns
import_report: what is said of a table, as data and in words
"""
