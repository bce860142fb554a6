"""The vocabulary, declared once as data; schemas, guide, charts and tests are fed from it.

answers: what a check can answer, what a blank can be advised, and their signs
body_sizes: the chest of the body that a letter size is meant for
causes: why a round can look as it does, and how likely each cause is beforehand
check_titles: the keys and titles of the checks
decoration_methods: ways to decorate, and their cautions
delivery_terms: faults, inspection levels, AQLs and decisions of a delivery
garment_terms: constructions, neck labels, wearers, ways of shipping
glossary: the words that the site explains
grade_scales: the scales from 5 to 1, and what is graded on each
handbook_topics: the topics of the handbook, and the command that each explains
points: the points of measure, and what is usual at each
wash_procedures: washing and drying procedures
"""
