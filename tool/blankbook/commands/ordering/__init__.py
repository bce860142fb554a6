"""Bulk orders: worked out, written down, and closed with how they went."""
