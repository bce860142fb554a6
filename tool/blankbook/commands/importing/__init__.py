"""The `import` command: readings that were kept in a table elsewhere.

import_readings: the command
table_input: the table, and what a person says about its columns
import_report: what is said of a table, as data and in words
"""
