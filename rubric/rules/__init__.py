"""What holds for the whole mark: entry conditions, lateness, attempts, rounding and bounds.

Each says in sentences what it did, so that the points printed and the rules add up to the total as printed.
"""
