"""The numbers that results carry, each under one name.

A check that has a number of its own adds a line. Whoever asks a result for a number asks by these
names, so that mypy finds one that is misspelt or gone.
"""

from enum import StrEnum


class Quantity(StrEnum):
    """What a number of a result is, in plain words; the JSON has it under these words."""

    # of several checks
    PIECES = "pieces"
    TOLERANCE = "tolerance"
    LIMIT = "limit"
    # of a size, a step or a piece against its chart
    NINE_IN_TEN = "nine pieces in ten"
    MEAN = "mean"
    CHART = "chart"
    SHARE_INSIDE = "share inside"
    SOUND_CHANCE = "chance that it is sound"
    USUAL_STEP = "usual step"
    CHARTED_STEP = "charted step"
    STEP = "step"
    MIX_UP_CHANCE = "mix-up chance"
    MOST_MIXED_UP = "at most"
    ACCEPTED_CHANCE = "accepted chance"
    OFF_THE_CHART = "off the chart"
    READING_UNCERTAINTY = "uncertainty of the reading"
    CONFORMANCE = "chance that it conforms"
    RIGHT_TAG_CHANCE = "chance that the tag is right"
    LIKELIEST_SIZE_CHANCE = "chance of the likeliest size"
    NO_SIZE_CHANCE = "chance of none of the sizes"
    # of the spread between pieces
    SPREAD = "spread"
    CARRIED_SPREAD = "most that the tolerance carries"
    DEGREES_OF_FREEDOM = "degrees of freedom"
    SHARE_FROM_ELSEWHERE = "share from elsewhere"
    READING_PART = "part of the reading"
    # of washing, new and washed
    CHANGE = "change"
    WASHED = "washed"
    OWN_SIZE_WHEN_NEW = "own size when new"
    OFF_ITS_OWN_SIZE = "off its own size"
    NEAREST_SIZE_WHEN_NEW = "nearest size when new"
    OFF_THE_NEAREST_SIZE = "off the nearest size"
    TWIST_AS_RECEIVED = "as received"
    TWIST_ADDED = "added"
    TWIST = "twist"
    # of grades and wear
    MEAN_GRADE = "mean grade"
    LEAST_GRADE = "least grade"
    WORST_GRADE = "worst grade"
    PIECES_BELOW = "below it"
    SHARE_BELOW = "share that may be below"
    DAYS_WORN = "days worn, at least"
    WASHES_WORN = "washes, at least"
    # of the cloth
    MASS = "mass"
    SWATCHES = "swatches"
    CLAIMED = "claimed"
    OFF_THE_CLAIM = "off the claim"
    # of lots over time
    LOTS = "lots"
    BETWEEN_LOTS = "between lots"
    WITHIN_LOTS = "within lots"
    ASSUMED_SHARE = "share that is assumption"
    NEXT_LOT = "next lot"
    MOVED_BY = "moved by"
    MARGIN = "margin"
    # of a delivery
    DELIVERED = "delivered"
    TO_LOOK_AT = "to look at"
    INSPECTED = "inspected"
    BAD = "bad"
    ACCEPTANCE_NUMBER = "acceptance number"
    REJECTION_NUMBER = "rejection number"
    STILL_TO_LOOK_AT = "still to look at"
    FAULTY_IN_ALL = "may have a fault in all"
    OUTSIDE_IN_ALL = "may be outside in all"
    ACCEPTED = "accepted"
