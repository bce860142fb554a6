"""The pages of bulk orders, for the shop alone.

order_page: one order, open or through
order_rows: what the lists know of an order
order_sums: what orders came to, of a blank or a supplier
orders_page: all orders, open ones first, with what they earned and how stated risks held
"""
