"""The build: what changed, what is made anew, and how the finished site is published."""
