"""The vocabulary, declared once as data; schemas, guide, charts and tests are fed from it."""
