"""The `import` command: readings that were kept in a table elsewhere."""
