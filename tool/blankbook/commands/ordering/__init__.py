"""Bulk orders: worked out, written down, and closed with how they went.

order: the command that works one out; outcome: the command for what was bought and how it went
find_order: the blank, judged, and all orders of the shop
new_order: an order that is new, and its file
order_flags: what flags say, and what a person is asked where they do not
order_screen: an order on one screen
"""
