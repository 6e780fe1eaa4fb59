"""The commands of the worker: ``kingpost solve``, ``mark`` and ``work``."""
