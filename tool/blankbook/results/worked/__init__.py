"""The worked examples of the method page, computed by what they explain; no check imports them."""
