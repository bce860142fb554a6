"""The texts of new files: a shop, a supplier, a style, a planned round.

claim_files: a supplier's file, and a style's file with its chart and price
host_workflow: what a code host runs for a ledger
new_names: names of files from names of suppliers and styles, and names that are alike
new_shop: all files of a shop that begins
delivery_file: a delivery that was counted
planned_file: a round's file before anything was measured
sample_plan: which pieces to buy
"""
