"""Whether an order arrives in time, and whether a further look still fits."""

import datetime
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class OrderDays:
    """The days of an order; None where the lead time or the day is not stated."""

    today: datetime.date
    lead: int | None
    needed_by: datetime.date | None

    @property
    def arrives(self) -> datetime.date | None:
        """The day on which an order of today arrives."""
        return None if self.lead is None else self.today + datetime.timedelta(self.lead)

    @property
    def order_by(self) -> datetime.date | None:
        """The last day on which an order arrives in time."""
        if self.lead is None or self.needed_by is None:
            return None
        return self.needed_by - datetime.timedelta(self.lead)

    @property
    def spare(self) -> int | None:
        """How many days an order may wait; negative where it is late today."""
        return None if self.order_by is None else (self.order_by - self.today).days

    def fits(self, days: int) -> bool:
        """Say whether a look of so many days still fits; where no day is stated, it does."""
        return self.spare is None or days <= self.spare
