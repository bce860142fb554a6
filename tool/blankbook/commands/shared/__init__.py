"""What several commands need.

errors: what stops a command, and its exit code
ledger_root: the folder that holds shop.yaml, and the option for it
find_blank: one blank by its name, judged
judge_ledger: blanks judged with what the whole ledger teaches
findings_report: findings as text, as data, as annotations
terminal: how wide a terminal is, its colours, and what long work says there
visible_streams: what reaches a terminal, with control characters spelled
epilog: the last line of every help, with the topic of the handbook
prompts: questions to a person at a terminal
kept_answers: questions whose answers stay until the file is written
completion: what a shell offers for a name that is half typed
write_changes: what would change, writing it, and saying so
"""
