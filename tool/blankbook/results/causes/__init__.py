"""Why a round looks the way it does, how likely each cause is, and what to buy to tell.

- `suppositions`: the ways in which each cause can have come about
- `likelihood`: how likely the readings are under each of them
- `explanations`: the chance of each cause
- `purchase`: the cheapest purchase that tells the two likeliest causes apart
"""
