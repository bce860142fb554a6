"""What the shop wrote: records, exact lengths, rules, and loading a whole ledger.

amounts: mass per unit area, areas, masses, temperatures
chart_remarks: what is worth a second look in a size chart
comparable: which lengths of a chart may be compared with readings
field_faults: what the check would say of one field
flat_or_around: whether widths are flat or all the way around, by their size
lengths: exact lengths, and how a length is shown
load_file: one file, from its bytes to its record or its findings
load_ledger: the whole ledger with every finding
money: exact decimals, rounded half up
processes: the same work over many items on several cores
reading_slips: the slips that explain an odd reading, the same through every door
rule_context: what the files of a blank are checked against
supply_terms: which price and terms hold on a day
convert: from typed trees to records
model: the records themselves
rules: what must hold between values and between files
"""
