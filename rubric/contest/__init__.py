"""The contest: its rules, and everything that is computed from raw readings.  Pure.

``rules`` is what a coordinator writes.  ``rig`` turns a reading into a load, ``weighing`` looks at a mass, ``official``
ranks, ``order`` says who is tested when, ``factor`` compares what was predicted with what was measured.
"""
