"""The templates of the page bodies; what a person typed reaches them as data, and is escaped."""
