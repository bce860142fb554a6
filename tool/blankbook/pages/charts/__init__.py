"""Charts: what each shows (`specs`, plain data) and how it is drawn (`draw`, matplotlib)."""
