"""The `add` commands: suppliers, styles and size charts."""
