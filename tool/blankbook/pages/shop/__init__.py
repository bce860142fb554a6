"""The pages about the whole shop.

- `list_pages`: catalogue, suppliers, one supplier; `blank_row`: what these lists know of a blank
- `delivery_rows`, `supplier_deliveries`, `supplier_lots`: a supplier's deliveries and lots
- `search_words`: the words that the catalogue is searched in
- `compare_pages`: blanks beside each other
- `method_page`, `method_types`: every rule with a worked example; `trials.json`: its simulation
- `order_method`: how bulk orders fare in simulation
- `measuring_page`: how well the shop measures
- `fixed_pages`: measuring guide and glossary
- `changes_page`, `commit_entries`, `atom_feed`: what changed lately, as a page and as a feed
"""
