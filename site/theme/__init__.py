"""The frame that MkDocs puts around every page."""
