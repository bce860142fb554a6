"""Versions of the ledger in git: commits, files and their bytes.

git: the one door to git.
revisions: what a person means by a version: a commit, a branch, a tag, a day.
file_commits: the newest commit of each file, and every commit, from one log.
commit_notes: what the commits between two versions say of each file.
snapshots: names and hashes of the files of a version, and bytes by their hash.
version_pair: two versions as git lists them.
version_bytes: the records of one version, read from bytes in memory.
"""
