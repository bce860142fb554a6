"""An attack from outside: damaged files, kills, marks, markup and hostile repositories.

`mutants`: damaged files of every kind through check, judging, both builds
`kills`: every command that writes, killed at a random moment
`marks`: private marks in every field, and marks that play tricks behind every option
`markup`: what a person may type, in every field, against a harmless twin
`repositories`: clones whose settings, links and memories are hostile
"""
