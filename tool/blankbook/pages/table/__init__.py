"""The pages to measure with: on paper and on a phone."""
