"""blankbook: a ledger of vetted blank garments, and the site that it makes.

The way of the data, which is the way of the folders:

``text``     files, positions, schemas: what stands written, and where
``records``  what the shop wrote, typed
``results``  what follows from it: pure, no file, clock or terminal
``pages``    charts, page contexts, the finished site
``commands`` the doors: arguments in, exit codes out

``words`` is the vocabulary that all of them share.
"""

__version__ = "0.1.0"
