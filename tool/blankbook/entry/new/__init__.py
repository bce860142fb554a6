"""The texts of new files: a shop, a supplier, a style, a planned round."""
