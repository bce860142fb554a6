"""The judging core against simulated truth: is it right as often as it says?"""
