"""What a person looks at: charts, page contexts, and the finished site."""
