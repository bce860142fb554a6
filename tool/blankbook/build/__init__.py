"""The build: what changed, what is made anew, and how the finished site is published.

build_site: the build from its beginning to its end.
build_inputs: what a build starts from, and whether any of it changed.
build_cache: what a build leaves for the next.
file_stamps: whether a file has changed.
code_fingerprint: the code as one hash.
content_keys: the keys of pages and charts.
frozen_json: frozen values as JSON, and back.
rebuild: a build in which something has changed.
new_commit: a build in which only the commit has changed.
read_changed: what a build reads of the ledger.
make_files: pages and charts, made unless the old site has them.
chart_worker: a child process that draws.
page_foot: the foot of every page, and what is not committed.
mkdocs_adapter: MkDocs, which puts pages into the theme.
assemble: the new site, put together and checked.
link_check: whether every link leads somewhere.
trust: what a build may write over and believe; the lock of a ledger.
publish: how the site takes the old one's place.
build_errors: the errors that end a build.
"""
