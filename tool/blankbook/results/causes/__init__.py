"""Why a round looks the way it does, how likely each cause is, and what to buy to tell.

- `suppositions`: the ways in which each cause can have come about
- `point_readings`: what was read of every piece at one point, and what is asked of its sizes
- `point_likelihood`: how likely that is under each of the ways, at one point
- `weighed_ways`: the same at all points, with some tags taken for granted as wrong
- `target_moments`: where sizes and steps lie by each of the ways
- `posterior`: what all readings say together: of the ways, the tags, the sizes and the steps
- `explanations`: the chance of each cause
- `purchase`: the cheapest purchase that tells the two likeliest causes apart
"""
