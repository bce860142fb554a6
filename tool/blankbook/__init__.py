"""blankbook: a ledger of vetted blank garments, and the site that it makes.

The way of the data, which is the way of the folders:

``text``     files, positions, schemas: what stands written, and where
``records``  what the shop wrote, typed
``results``  what follows from it: pure, no file, clock or terminal
``entry``    what happens at the table: readings as typed, tables and charts as given
``history``  what git knows about the ledger, and what a change of it means
``pages``    charts, page contexts, the finished page
``build``    what changed, what is made anew, and how the site is published
``commands`` the doors: arguments in, exit codes out

``words`` is the vocabulary that all of them share.

A build lists the files and reads their bytes; composes nodes in which every scalar is the text as
written; gives each its type by the schema; converts to records; and checks these against the rules.
It finds all faults of all files before it stops. Then it judges each blank, writes down each page
and chart as a spec, makes those that changed, and puts the finished site in the old one's place.
"""

__version__ = "0.1.0"
