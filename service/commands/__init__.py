"""Commands of the service; each module holds what ``kingpost NAME`` calls."""
