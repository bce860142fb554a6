"""A table of readings that was kept elsewhere, taken into a round's file.

cell_lengths: the lengths in a cell, as a file with its tape holds them
imported_round: pieces of a table as a round's file, new or already there
read_table: the whole table, row by row
reading_columns: what each column holds
reading_units: flat or all the way around, inches or centimetres, by the size of readings
table_pieces: which garment a row is
"""
