"""What a build may write over, and what it may believe of what it finds.

build_lock: one build of a ledger at a time
kept_files: what is kept between builds, signed
machine_key: the key that it is signed with
output_place: where a site may go
"""
