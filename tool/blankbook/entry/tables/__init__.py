"""Tables of cells from pasted text, separated values and spreadsheets."""
