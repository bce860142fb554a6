"""The doors: arguments in, exit codes out."""
