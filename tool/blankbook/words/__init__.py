"""The vocabulary, declared once as data: it feeds the schemas, the guide, the charts and the tests."""
