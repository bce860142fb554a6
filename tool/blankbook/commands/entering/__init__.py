"""The `enter` command: readings at the table, from a list, and what is decided.

enter: the command
find_round: which file is meant, and its head before anything is measured
stage_flags: which look at the pieces the flags mean
stage_questions: what is asked before the first grid
round_settings: how a round was washed, what was decided
grade_details: how a print was made, how a piece was worn, by flags
table_prompts: one prompt for each reading, each on disk before the next
read_back: the question, and the reading as it was read
readings_grid: a few pieces as a grid that fits the terminal
listed_readings: readings from flags or the lines of a file
more_pieces: pieces that come into a round after it was planned
handed_round: what the page for the phone hands over
odd_question: what is asked about an odd reading
line_prompt: a line that is typed, with arrow keys
write_round: a round or a delivery written as a whole
save_readings: one change at a time to a file
"""
