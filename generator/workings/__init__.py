"""What follows from the shop's facts: pure functions from a Shop to results."""
