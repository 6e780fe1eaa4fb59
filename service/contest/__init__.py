"""Leaderboards: ``board`` ranks, ``pages`` shows."""
