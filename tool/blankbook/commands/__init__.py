"""The doors: arguments in, exit codes out.

main: the command line, and the exit code of every way of ending
start: a new ledger in an empty folder
adding: suppliers, styles and size charts
plan: which samples to buy, what they cost and can show
open_rounds: rounds that take more pieces of the same lot
entering: readings at the table or from a list
importing: readings that were kept in a table elsewhere
ordering: bulk orders, and how they went
receiving: deliveries, counted and looked over
check: every fault of the ledger; unreasoned: decisions against the evidence without a reason
vet: what is shown of a blank, or a line for each; vet_report: results as text for a terminal
vet_today: what holds today for one blank, on one screen
build: the site
measuring: how well the shop measures
changes: what differs between two versions of the ledger
help_topics: the handbook at the terminal
shared: what several commands need
"""
