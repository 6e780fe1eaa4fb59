"""Real processes that are killed, frozen and robbed of their broker."""
