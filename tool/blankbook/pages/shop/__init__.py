"""The pages about the whole shop: catalogue, suppliers, method, changes."""
