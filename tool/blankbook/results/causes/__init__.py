"""Why a round looks the way it does: what may be behind it, how likely, and what to buy to tell."""
